"""What else is needed to make a pattern up, for JSON: bindings, closures, materials, the order."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.compiler.making.cut_list import cut_list, opened_width
from oaktag.compiler.making.materials import materials
from oaktag.compiler.making.order import making

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import Pattern, SeamSide

    Object = dict[str, Any]

_FIGURES = 6


def bindings(pattern: Pattern) -> list[Object]:
    return [
        {
            "edges": chain(one.edges),
            "sewn": _figure(one.sewn),
            "width": _figure(one.width),
            "double": one.double,
            "cut_width": _figure(one.cut_width),
            "cloth": one.cloth,
            "line": one.span.line,
        }
        for one in pattern.bindings
    ]


def closures(pattern: Pattern) -> list[Object]:
    return [
        {
            "first": chain(one.first),
            "second": chain(one.second),
            "kind": one.kind,
            "opening": _figure(one.opening),
            "length": _maybe(one.length),
            "line": one.span.line,
        }
        for one in pattern.closures
    ]


def needed(pattern: Pattern) -> Object:
    """Cloth by the cut list, and what is bought besides."""
    found = materials(pattern)
    return {
        "cloths": [
            {
                "cloth": cloth.cloth,
                "area": _figure(cloth.area),
                "widest": _figure(opened_width(cloth.widest)),
                "pieces": [
                    {
                        "piece": row.piece,
                        "count": row.count,
                        "pair": row.pair,
                        "fold": row.fold,
                        "along_grain": _figure(row.along),
                        "across_grain": _figure(row.across),
                        "area": _figure(row.area),
                    }
                    for row in cloth.rows
                ],
            }
            for cloth in cut_list(pattern)
        ],
        "strips": [
            {
                "cloth": one.cloth,
                "cut_width": _figure(one.cut),
                "length": _figure(one.length),
                "square": _figure(one.side),
                "strips": one.strips,
                "pieced_square": _figure(one.pieced),
            }
            for one in found.strips
        ],
        "zips": [
            {
                "opening": one.opening,
                "open": _figure(one.long),
                "count": one.count,
                "length": _maybe(one.length),
                "needed": _maybe(one.needed),
            }
            for one in found.zips
        ],
        "fastenings": [
            {
                "kind": one.kind,
                "opening": one.opening,
                "open": _figure(one.long),
                "count": one.count,
                "each": _maybe(one.each),
            }
            for one in found.fastenings
        ],
        "buttons": [
            {
                "kind": one.kind,
                "size": _figure(one.size),
                "count": one.count,
                "pieces": list(one.pieces),
            }
            for one in found.buttons
        ],
    }


def order(pattern: Pattern) -> list[Object]:
    plan = making(pattern)
    return [
        {
            "kind": one.kind,
            "sentence": one.said,
            "caption": one.caption,
            "pieces": list(one.pieces),
            "line": one.span.line if one.span is not None else None,
            "after": list(after),
        }
        for one, after in zip(plan.operations, plan.after, strict=True)
    ]


def chain(sides: Sequence[SeamSide]) -> list[Object]:
    """The edges of a chain, in order."""
    return [{"piece": side.piece.name, "edge": str(side.edge.label)} for side in sides]


def _maybe(amount: float | None) -> float | None:
    return None if amount is None else _figure(amount)


def _figure(amount: float) -> float:
    return round(float(amount), _FIGURES) + 0.0
