"""DXF drawings, read with ezdxf."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

from oaktag.compiler.geometry import Cubic, Line, Path, Segment
from oaktag.compiler.tracing.drawing import (
    MOST_PARTS,
    Drawing,
    TracingError,
    no_names,
    too_many_parts,
)
from oaktag.compiler.tracing.ezdxf_alone import ezdxf_alone
from oaktag.compiler.tracing.interchange import pieces_of, read_piece

# Millimetres to a unit, by the number that $INSUNITS gives.
UNITS = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 10: 914.4}
PIECES = 16  # curves in place of an arc: they come within a millionth of its radius


def read_dxf(name: str, data: bytes, piece: str = "") -> Drawing:
    """All lines of the drawing's model space, blocks taken apart; or one piece of a pattern."""
    ezdxf_alone()
    import ezdxf.path
    from ezdxf import recover
    from ezdxf.lldxf.const import DXFError

    try:
        document, _ = recover.read(io.BytesIO(data))
    except (OSError, DXFError):
        raise TracingError(
            f"{name} cannot be read as DXF", help="open it in a drawing program and save it again"
        ) from None
    pieces = pieces_of(document)
    if pieces:
        return read_piece(name, document, pieces, piece)
    if piece:
        raise no_names(name)
    factor = UNITS.get(int(document.header.get("$INSUNITS", 0)))
    lines = []
    for number, entity in enumerate(_entities(document.modelspace())):
        if number >= MOST_PARTS:
            raise too_many_parts(name)
        try:
            drawn = ezdxf.path.make_path(entity, segments=PIECES)
        except TypeError:
            continue  # text, points and the like have no line
        segments = list(_segments(drawn, factor or 1.0))
        if segments:
            lines.append(Path(segments))
    return Drawing(tuple(lines), factor is not None)


def _entities(items: Any) -> Iterator[Any]:
    for item in items:
        if item.dxftype() == "INSERT":
            yield from _entities(item.virtual_entities())
        else:
            yield item


def _segments(drawn: Any, factor: float) -> Iterator[Segment]:
    from ezdxf.path import Command

    def at(point: Any) -> complex:
        return complex(point.x, point.y) * factor

    start = at(drawn.start)
    for command in drawn.commands():
        end = at(command.end)
        if command.type == Command.LINE_TO:
            if abs(end - start) > 1e-9:
                yield Line(start, end)
        elif command.type == Command.CURVE4_TO:
            yield Cubic(start, at(command.ctrl1), at(command.ctrl2), end)
        elif command.type == Command.CURVE3_TO:
            control = at(command.ctrl)
            yield Cubic(
                start, start + (control - start) * 2 / 3, end + (control - end) * 2 / 3, end
            )
        start = end
