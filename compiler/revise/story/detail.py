"""An enlarged part of a picture, where what was let in or cut away is too thin to be seen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import interior_point, ring_area
from oaktag.compiler.revise.story.ink import View
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.geometry import Box, Path
    from oaktag.compiler.revise.story.telling import Picture

SEEN = 0.7  # mm on the page: a strip this wide shows without help
WANTED = 2.5  # mm on the page: how wide it is made
LEAST = 0.02  # mm of paper: thinner than a pencil line, there is nothing to show
SCALES = (10.0, 8.0, 5.0, 4.0, 2.5, 2.0, 1.0, 0.5, 0.2, 0.1)
MOST_POINTS = 2000  # of the picture, to find where it is empty
WIDEST, NARROWEST = 34.0, 10.0  # mm on the page


class Detail(Record):
    """What is enlarged. frame: left, top, right and bottom on the page. at: the middle of what it
    shows, on the page. scale: in words.
    """

    view: View
    frame: Box
    at: complex
    scale: str


def detail(picture: Picture, view: View) -> Detail | None:
    """The largest of the strips, if even that one is too thin to be seen; else none."""
    rings = [*picture.let_in, *picture.cut_away]
    if not rings or any(_thickness(ring) / view.scale >= SEEN for ring in rings):
        return None
    ring = max(rings, key=lambda one: abs(ring_area(one)))
    thick = _thickness(ring)
    scale = next((one for one in SCALES if one <= thick / WANTED), SCALES[-1])
    wide = min(WIDEST, 0.45 * view.width)
    high = min(WIDEST * 0.75, 0.45 * view.height)
    if thick < LEAST or scale > view.scale / 1.5 or min(wide, high) < NARROWEST:
        return None
    middle = interior_point(ring)
    half = complex(wide, high) * scale / 2
    low, top = middle - half, middle + half
    box = (low.real, low.imag, top.real, top.imag)
    corner = _free_corner(picture, view, wide, high, view.at(middle))
    return Detail(
        View(box, scale, corner.real, corner.imag, 0.0, view.pen),
        (corner.real, corner.imag, corner.real + wide, corner.imag + high),
        view.at(middle),
        f"1 : {scale:g}" if scale >= 1 else f"{1 / scale:g} : 1",
    )


def _thickness(ring: Path) -> float:
    """The width of a thin strip, from its area and its way round, in mm of paper."""
    return 2 * abs(ring_area(ring)) / ring.length if ring.length else 0.0


def _free_corner(picture: Picture, view: View, wide: float, high: float, near: complex) -> complex:
    """The upper left corner of the place in the frame that covers the least of the picture, and of
    several such places the nearest.
    """
    paths = [*_drawn(picture), *picture.was, *picture.let_in, *picture.cut_away]
    paths += [edge.path for edge in picture.paper.edges] * 2  # it tells most
    apart = max(2 * view.scale, sum(path.length for path in paths) / MOST_POINTS)
    points = [view.at(point) for path in paths for point in _dotted(path, apart)]
    across, down = view.width - wide - 1, view.height - high - 1
    corners = [
        complex(view.left + 0.5 + across * i / 8, view.top + 0.5 + down * j / 8)
        for j in range(9)
        for i in range(9)
    ]

    def covered(corner: complex) -> int:
        return sum(
            -1 <= p.real - corner.real <= wide + 1 and -1 <= p.imag - corner.imag <= high + 1
            for p in points
        )

    middle = complex(wide, high) / 2
    return min(corners, key=lambda corner: (covered(corner), abs(corner + middle - near)))


def _drawn(picture: Picture) -> Iterator[Path]:
    for edge in picture.paper.edges:
        yield edge.path
    for line in picture.paper.lines:
        yield line.path
    for opening in picture.paper.openings:
        yield opening.first
        yield opening.second


def _dotted(path: Path, apart: float) -> Iterator[complex]:
    """Points of a path, about so many mm from each other."""
    count = max(1, round(path.length / apart))
    for i in range(count + 1):
        yield path.point_at(path.length * i / count)
