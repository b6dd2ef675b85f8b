"""How a picture looks, on paper without colour too: hatched, dotted, light, heavy."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.grain import grain_line
from oaktag.compiler.geometry import line
from oaktag.compiler.paper.opening import DART, FLARE
from oaktag.compiler.revise.story.detail import detail
from oaktag.compiler.revise.story.ink import figure, place, text, width_of
from oaktag.compiler.revise.story.labels import labels
from oaktag.compiler.sheet.symbols import arrow, bar, circle, cross

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.mark import Mark
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.revise.story.detail import Detail
    from oaktag.compiler.revise.story.ink import View
    from oaktag.compiler.revise.story.telling import Picture

OUTLINE, HEAVY, NEW_LINE, THIN, LIGHT = 0.4, 0.8, 0.6, 0.2, 0.25  # mm on the page
LIGHT_COLOUR = "#808080"
CROWD = 40  # more new lines than these are drawn thinner, so that they do not run together
FOLD = "6 1 1 1"  # mm: the chain line of an edge on the fold
ARROW, TICK, RING = 1.8, 1.6, 2.0  # mm on the page

LET_IN, CUT_AWAY, WAS, NEW = "let in", "cut away", "where it was", "new"


def patterns() -> str:
    """The fills of a document, once in each. One fill draws any number of strokes."""
    return (
        '<defs><pattern id="let-in" width="1.5" height="1.5" patternUnits="userSpaceOnUse"'
        ' patternTransform="rotate(45)"><rect width="1.5" height="1.5" fill="#f4e7c5"/>'
        '<path d="M0 .75H1.5" stroke="#404040" stroke-width=".18"/></pattern>'
        '<pattern id="cut-away" width="1.3" height="1.3" patternUnits="userSpaceOnUse">'
        '<circle cx=".33" cy=".33" r=".2"/><circle cx=".98" cy=".98" r=".2"/></pattern></defs>'
    )


def drawn(picture: Picture, view: View, key: str, size: float, sparing: bool = False) -> str:
    """A picture in its frame.

    key: what its names in the document begin with. size: of the names on the paper, in mm on the
    page. sparing: only names that the step has to do with.
    """
    zoom = detail(picture, view)
    parts = list(_paper(picture, view))
    if zoom is not None:
        parts += _detail(picture, zoom, key)
    parts += labels(picture, view, size, [zoom.frame] if zoom else [], sparing)
    return "\n".join(part for part in parts if part)


def key_to(kinds: Iterable[str], at: complex, size: float) -> str:
    """What the fills and lines mean, in a row: `let in`, `cut away`, …"""
    parts = []
    x = at.real
    for kind in kinds:
        top, middle, wide = figure(at.imag - size), figure(at.imag - 0.4 * size), figure(2 * size)
        if kind in (LET_IN, CUT_AWAY):
            parts.append(
                f'<rect x="{figure(x)}" y="{top}" width="{wide}" height="{figure(1.2 * size)}"'
                f' fill="url(#{kind.replace(" ", "-")})" stroke="#000"'
                f' stroke-width="{THIN}"/>'
            )
        else:
            colour, thick = (LIGHT_COLOUR, LIGHT) if kind == WAS else ("#000", HEAVY)
            parts.append(_stroke(f"M{figure(x)} {middle}h{wide}", thick, colour))
        parts.append(text(kind, complex(x + 2.5 * size, at.imag), size))
        x += 4 * size + width_of(kind, size)
    return "".join(parts)


def kinds(pictures: Iterable[Picture]) -> list[str]:
    """Which fills and lines occur."""
    found: set[str] = set()
    for picture in pictures:
        had = {
            LET_IN: picture.let_in,
            CUT_AWAY: picture.cut_away,
            WAS: picture.was,
            NEW: picture.fresh or picture.names or picture.marks or picture.grain,
        }
        found.update(kind for kind, there in had.items() if there)
    return [kind for kind in (LET_IN, CUT_AWAY, WAS, NEW) if kind in found]


def _paper(picture: Picture, view: View) -> Iterator[str]:
    """From the bottom: paper let in, where it was, cut away, lines, outline, new, marks."""
    paper, new, pen = picture.paper, set(picture.names), view.pen
    if picture.let_in:
        rings = "".join(view.path(ring, close=True) for ring in picture.let_in)
        yield f'<path d="{rings}" fill="url(#let-in)" stroke="#404040" stroke-width=".15"/>'
    if picture.was:
        yield _stroke(_all(picture.was, view), LIGHT * pen, LIGHT_COLOUR)
    if picture.cut_away:
        rings = "".join(view.path(ring, close=True) for ring in picture.cut_away)
        yield (
            f'<path d="{rings}" fill="url(#cut-away)" stroke="#404040" stroke-width=".2"'
            ' stroke-dasharray="1 .7"/>'
        )
    sides = [(item, side) for item in paper.openings for side in (item.first, item.second)]
    flares = [side for item, side in sides if item.kind == FLARE and item.label not in new]
    others = [side for item, side in sides if item.kind != FLARE and item.label not in new]
    others += [drawn.path for drawn in paper.lines if drawn.label not in new]
    heavy = [side for item, side in sides if item.label in new]
    heavy += [drawn.path for drawn in paper.lines if drawn.label in new]
    if flares:
        yield _stroke(_all(flares, view), 0.15 * pen, LIGHT_COLOUR)
    if others:
        yield _stroke(_all(others, view), THIN * pen)
    cut = [edge.path for edge in paper.edges if not edge.on_fold]
    if cut:
        yield _stroke(_all(cut, view), OUTLINE * pen)
    folds = [edge.path for edge in paper.edges if edge.on_fold]
    if folds:
        yield _stroke(_all(folds, view), OUTLINE * pen, dashes=FOLD)
    if heavy:
        width = NEW_LINE * pen * min(1.0, CROWD / len(heavy))
        yield _stroke(_all(heavy, view), max(width, 0.1))
    if picture.fresh:
        yield _stroke(_all(picture.fresh, view), HEAVY * pen)
    for item in paper.openings:
        if item.kind == DART and item.ending:
            yield _dot(view.at(item.tip), 0.5)
    if paper.grain is not None:
        yield _grain(paper, view, pen * (NEW_LINE if picture.grain else THIN))
    for mark in paper.marks:
        yield _mark(mark, view, pen * (NEW_LINE if mark in picture.marks else LIGHT))


def _detail(picture: Picture, zoom: Detail, key: str) -> Iterator[str]:
    """A part of the picture, enlarged."""
    left, top, right, bottom = zoom.frame
    size = f'width="{figure(right - left)}" height="{figure(bottom - top)}"'
    frame = f'<rect x="{figure(left)}" y="{figure(top)}" {size}'
    name = f"{key}detail"
    yield _dot(zoom.at, RING, 0.15)
    nearest = complex(min(max(zoom.at.real, left), right), min(max(zoom.at.imag, top), bottom))
    way = nearest - zoom.at
    if abs(way) > RING:
        yield _stroke(f"M{place(zoom.at + way / abs(way) * RING)}L{place(nearest)}", 0.15)
    yield (
        f'<clipPath id="{name}">{frame}/></clipPath>'
        f'{frame} fill="#fff"/><g clip-path="url(#{name})">'
    )
    yield from _paper(picture, zoom.view)
    yield f'</g>{frame} fill="none" stroke="#000" stroke-width=".15"/>'
    yield text(zoom.scale, complex(left + 1, bottom - 1), 2, halo=True)


def _all(paths: Iterable[Path], view: View) -> str:
    return "".join(view.path(path) for path in paths)


def _stroke(data: str, width: float, colour: str = "#000", dashes: str = "") -> str:
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path d="{data}" fill="none" stroke="{colour}" stroke-width="{figure(width)}"'
        f' stroke-linejoin="round"{dashed}/>'
    )


def _dot(at: complex, radius: float, width: float = 0.0) -> str:
    ink = f'fill="none" stroke="#000" stroke-width="{figure(width)}"' if width else 'fill="#000"'
    return f'<circle cx="{figure(at.real)}" cy="{figure(at.imag)}" r="{figure(radius)}" {ink}/>'


def _grain(paper: Piece, view: View, width: float) -> str:
    """An arrow at both ends, where it is plotted too: on the paper and clear of the edges."""
    ends = grain_line(paper) if paper.edges else None
    if ends is None or abs(ends[1] - ends[0]) < 3 * ARROW * view.scale:
        return ""
    return _stroke(_all(arrow(*ends, ARROW * view.scale, both=True), view), width)


def _mark(mark: Mark, view: View, width: float) -> str:
    """Notches, drill holes, buttons and buttonholes in a size that shows; text as it stands."""
    at, way = mark.at, mark.direction
    if mark.kind == "notch":
        beside = way * 0.5j * view.scale if mark.double else 0j
        places = (at - beside, at + beside) if mark.double else (at,)
        ticks = [line(place, place + way * TICK * view.scale) for place in places]
        return _stroke(_all(ticks, view), width)
    if mark.kind == "buttonhole":
        half = way * max(mark.size / 2, 0.8 * view.scale)
        ends = [bar(end, way * 1j, 1.2 * view.scale) for end in (at - half, at + half)]
        return _stroke(_all([line(at - half, at + half), *ends], view), width)
    if mark.kind == "button":
        return _stroke(_all([circle(at, max(mark.size / 2, 0.6 * view.scale))], view), width)
    if mark.kind == "drill":
        signs = [circle(at, 0.4 * view.scale), *cross(at, 1.6 * view.scale)]
        return _stroke(_all(signs, view), width)
    return text(mark.text, view.at(at), 2, anchor="middle", halo=True)
