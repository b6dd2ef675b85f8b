"""Pieces made for these tests, and how shapely sees them: it shares no code with the kernel."""

from __future__ import annotations

import math
import random
from typing import TYPE_CHECKING, Any

import pytest
from shapely.geometry import LineString, Point, Polygon

from oaktag.compiler.evaluate.pattern import Allowance
from oaktag.compiler.geometry import Cubic, Path, line, self_crossings
from oaktag.compiler.paper.chain import Edge, Run
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.piece import Piece
from oaktag.lang.source import Source, Span

if TYPE_CHECKING:
    from collections.abc import Sequence

NOWHERE = Span(Source("test.oak", ""), 0, 0)


class Paper:
    """Pieces called `piece`, with edges `e0`, `e1`, …"""

    @staticmethod
    def allow(width: float, *edges: Edge) -> Allowance:
        """`allow WIDTH on` the whole piece, or on edges of it."""
        return Allowance("piece", width, edges or None, False, NOWHERE)

    @staticmethod
    def of(paths: Sequence[Path], **named: Any) -> Piece:
        edges = tuple(Edge(Label(f"e{i}"), (Run(path),)) for i, path in enumerate(paths))
        return Piece("piece", edges, **named)

    @classmethod
    def corners(cls, *corners: complex) -> Piece:
        """Straight edges from corner to corner."""
        turned = (*corners[1:], corners[0])
        return cls.of([line(a, b) for a, b in zip(corners, turned, strict=True)])

    @classmethod
    def random(cls, seed: int) -> Piece | None:
        """A ring of straight and curved edges around the origin, in either direction."""
        chance = random.Random(seed)
        angles = sorted(chance.uniform(0, 2 * math.pi) for _ in range(chance.randint(3, 12)))
        angles = [a for i, a in enumerate(angles) if i == 0 or a - angles[i - 1] > 0.15]
        if len(angles) < 3:
            return None
        corners = [
            200 * chance.uniform(0.5, 1.3) * complex(math.cos(a), math.sin(a)) for a in angles
        ]
        paths = []
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
            first, second = (chance.uniform(-0.25, 0.25) for _ in range(2))
            handles = (a + (b - a) * complex(0.33, first), a + (b - a) * complex(0.67, second))
            straight = chance.random() < 0.7
            paths.append(line(a, b) if straight else Path((Cubic(a, *handles, b),)))
        piece = cls.of(paths)
        if piece.signed_area <= 0 or self_crossings(piece.outline, True):
            return None
        if chance.random() < 0.3:
            return cls.of([path.reversed() for path in reversed(paths)])
        return piece

    @staticmethod
    def polygon(ring: Path, flat: float = 0.002) -> Polygon:
        return Polygon([(p.real, p.imag) for p in ring.flattened(flat)[:-1]])

    @staticmethod
    def string(path: Path, flat: float = 0.002) -> LineString:
        return LineString([(p.real, p.imag) for p in path.flattened(flat)])

    @staticmethod
    def point(place: complex) -> Point:
        return Point(place.real, place.imag)


@pytest.fixture(scope="session")
def paper() -> Paper:
    return Paper()
