"""The pictures of the tutorial, drawn anew from its patterns.

    python examples/tutorial/pictures.py

They are small and for the screen: the plots are what `oaktag build` writes.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.geometry import line
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang.project.body import read_body
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.geometry import Path as Line
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.project.program import Program

HERE = Path(__file__).parent
# Which pieces each step shows.
SHOWN = {
    "02_rectangle": ("quarter",),
    "03_curves": ("quarter",),
    "04_dart": ("front",),
    "05_back": ("front", "back"),
    "06_flare": ("front",),
    "07_lines": ("front",),
    "08_drapes": ("front",),
    "09_smooth": ("front",),
    "10_skirt": ("front", "back"),
}
# A step of which only part of an edge is shown, nearer, with a light line where it was before.
NEAR = {"09_smooth": ("left.side", (0.42, 0.72), "08_drapes")}
SCALE = 0.36  # pixels to the millimetre
NEARER = 1.1
MARGIN = 24  # pixels round each piece
NAMES = 50  # and more of them to its left and right, for the names
AWAY = 5  # pixels from an edge to its name
STYLE = (
    "path{fill:none;stroke:#000;stroke-linejoin:round}.paper{fill:#fff}"
    ".in{fill:#ddd;stroke-width:.5}.line{stroke-width:.7;stroke-dasharray:3 2.5}"
    ".thin{stroke-width:.5}.was{stroke:#777;stroke-width:.7}"
    "text{font:10px sans-serif}.point{font-style:italic}"
)


def picture(name: str) -> str:
    """The SVG of one step."""
    pattern = drawn(name)
    parts: list[str] = []
    width = height = 0.0
    for piece in (pattern.pieces[wanted] for wanted in SHOWN[name]):
        shown, was, scale = piece.outline, None, SCALE
        if name in NEAR:
            edge, part, before = NEAR[name]
            whole = next(item for item in piece.edges if str(item.label) == edge).path
            shown = whole.part(*(share * whole.length for share in part))
            was, scale = drawn(before).pieces[piece.name].outline, NEARER
        left, bottom, right, top = (side * scale for side in shown.box())
        at = complex(width + MARGIN + NAMES - left, top + MARGIN)
        parts += figure(piece, pattern, at, scale, was)
        width += right - left + 2 * (MARGIN + NAMES)
        height = max(height, top - bottom + 2 * MARGIN)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}" height="{height:.0f}" '
        f'viewBox="0 0 {width:.0f} {height:.0f}">\n<style>{STYLE}</style>\n'
        '<rect width="100%" height="100%" fill="#fff"/>\n' + "\n".join(parts) + "\n</svg>\n"
    )


def drawn(name: str) -> Pattern:
    """The pattern of a step, for the body of the first."""
    body = read_body(program("01_body").file)
    measures = {key: Quantity("length", amount) for key, (amount, _) in body.values.items()}
    pattern = evaluate(program(name), measures).pattern
    assert pattern is not None, f"{name}.oak has errors; `oaktag check` tells them"
    return pattern


def program(name: str) -> Program:
    path = str(HERE / f"{name}.oak")
    return load(path, DiskFiles(path))


def figure(
    piece: Piece, pattern: Pattern, at: complex, scale: float, was: Line | None
) -> Iterator[str]:
    """One piece: its paper, what was let in, lines and names, in pixels.

    at: where its origin comes to lie. was: the outline before the last step.
    """

    def pixels(place: complex) -> complex:
        return at + place.conjugate() * scale

    def stroke(path: Line, kind: str, end: str = "") -> str:
        places = map(pixels, path.flattened(0.3))
        data = "L".join(f"{place.real:.1f} {place.imag:.1f}" for place in places)
        return f'<path class="{kind}" d="M{data}{end}"/>'

    def words(text: str, place: complex, way: complex, kind: str) -> str:
        """Beside a place, on the side that `way` points to."""
        beside = pixels(place) + AWAY * way.conjugate()
        anchor = "start" if way.real > 0.5 else "end" if way.real < -0.5 else "middle"
        down = 3.5 if anchor != "middle" else 0 if way.imag > 0 else 8
        return (
            f'<text class="{kind}" x="{beside.real:.1f}" y="{beside.imag + down:.1f}" '
            f'text-anchor="{anchor}">{text}</text>'
        )

    around = cut_line(piece, pattern.allowances)
    if around is not None:
        yield stroke(around, "thin", "Z")
    yield stroke(piece.outline, "paper", "Z")
    for opening in piece.openings:
        sides = opening.first.joined(opening.mouth).joined(opening.second.reversed())
        yield stroke(sides, "in", "Z")
    for drawn_line in piece.lines:
        yield stroke(drawn_line.path, "line")
    if was is not None:
        yield stroke(was, "was", "Z")
    for mark in piece.marks:
        if mark.kind == "notch":
            yield stroke(line(mark.at, mark.at + 12 * mark.direction), "thin")
    if around is None:
        for edge in piece.edges:
            middle = edge.length / 2
            outward = -edge.path.tangent_at(middle) * piece.inward
            yield words(str(edge.label), edge.path.point_at(middle), outward, "edge")
    if not piece.openings:  # the points are named while there is nothing else on the paper
        left, _, right, _ = piece.outline.box()
        for point in piece.points:
            place = pixels(point.at)
            outward = complex(-1 if point.at.real < (left + right) / 2 else 1)
            yield f'<circle cx="{place.real:.1f}" cy="{place.imag:.1f}" r="2"/>'
            yield words(str(point.label), point.at, outward, "point")


def main() -> None:
    for name in SHOWN:
        (HERE / f"{name}.svg").write_text(picture(name), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
