"""SVG at true scale: one user unit is one millimetre.

Written directly, which was measured against svgwrite with `debug=False` for 2,000 paths with the
same elements (medians of 5, one machine): 19 ms here; 69 ms there, and 52 ms more to import it. A
whole build is to take less than 200 ms, and svgwrite says of itself that it is inactive.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Arc, Cubic, Line
from oaktag.compiler.sheet.drawing import LAYERS
from oaktag.compiler.sheet.look import CAPITAL, DASHED, PENS, WHOLE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.geometry import Path
    from oaktag.compiler.sheet.drawing import Group, Sheet, Stroke, Text

# Of a laser's lines only the colour and a width below any beam's; told to each layer itself, since
# many programs for cutters do not read a style sheet.
_LASER = {
    "marks": 'fill="none" stroke="#f00" stroke-width=".025"',
    "cut": 'fill="none" stroke="#000" stroke-width=".025"',
}
_NAMES = {
    "cut": "cut line",
    "seam": "seam line",
    "intake": "darts and pleats",
    "drawn": "drawn lines",
}
_SPACES = (
    'xmlns="http://www.w3.org/2000/svg" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
)
_WIDEST_ARC = 3.0  # radians: half circles and more have no sure centre once rounded


def _style() -> str:
    """How lines and words look, for a browser."""
    rules = ["path{fill:none;stroke:#000;stroke-linecap:round;stroke-linejoin:round}"]
    for layer, pen in PENS.items():
        width = f"{pen.width:g}".lstrip("0")
        dashes = f";stroke-dasharray:{_dashes(pen.dashes)}" if pen.dashes else ""
        rules.append(f".{layer} path{{stroke-width:{width}{dashes}}}")
        if layer in WHOLE:
            rules.append(f".{layer} .{WHOLE[layer].replace(' ', '-')}{{stroke-dasharray:none}}")
    rules.append(f"path.dashed{{stroke-dasharray:{_dashes(DASHED)}}}")
    rules.append("text{font-family:sans-serif;text-anchor:middle;fill:#000}")
    rules.append("text.name{font-weight:bold}")
    return "\n".join(rules) + "\n"


def _dashes(lengths: tuple[float, ...]) -> str:
    return " ".join(f"{length:g}" for length in lengths)


STYLE = _style()


def svg(sheet: Sheet, laser: bool = False) -> bytes:
    """The whole sheet as one SVG file, UTF-8; pieces and kinds of line are layers with names.

    laser: for a sheet made by `for_laser`: hairlines, black to be cut and red to be engraved, the
    red ones first.
    """
    wide, high = _number(sheet.width), _number(sheet.height)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg {_SPACES} width="{wide}mm" height="{high}mm" viewBox="0 0 {wide} {high}">',
        f"<title>{_escaped(sheet.title)}</title>",
    ]
    if not laser:
        lines.append(f"<style>\n{STYLE}</style>")
    for group in sheet.groups:
        lines += _group(group, sheet.height, laser)
    lines.append("</svg>\n")
    return "\n".join(lines).encode()


def _group(group: Group, height: float, laser: bool) -> Iterator[str]:
    name = _escaped(group.name.replace(" ", "-"))
    yield f'<g id="{name}" {_layer(group.name)}>'
    yield f"<title>{_escaped(group.title)}</title>"
    by_layer = itertools.groupby(group.strokes, key=lambda stroke: stroke.layer)
    found = {layer: list(strokes) for layer, strokes in by_layer}
    for layer in _LASER if laser else LAYERS:
        items = [_stroke(stroke, group.at, height) for stroke in found.get(layer, ())]
        if layer == "text":
            items += [_text(text, group.at, height) for text in group.texts]
        if items:
            look = f" {_LASER[layer]}" if laser else ""
            named = _layer(f"{group.name}: {_NAMES.get(layer, layer)}")
            yield f'<g id="{name}-{layer}" class="{layer}" {named}{look}>'
            yield from items
            yield "</g>"
    yield "</g>"


def _layer(name: str) -> str:
    """What makes a group a layer for editors that know layers."""
    return f'inkscape:groupmode="layer" inkscape:label="{_escaped(name)}"'


def _stroke(stroke: Stroke, at: complex, height: float) -> str:
    kind = stroke.kind.replace(" ", "-") + (" dashed" if stroke.dashed else "")
    start = f'<path class="{kind}" d="{_data(stroke.path, at, height)}"'
    edge = stroke.edge
    if edge is None:
        return f"{start}/>"
    file = f'data-file="{_escaped(edge.file)}" ' if edge.file else ""
    return (
        f'{start} data-edge="{_escaped(edge.name)}" {file}data-line="{edge.line}" '
        f'data-length="{_number(edge.length)}" data-sewn="{_number(edge.sewn)}">'
        f"<title>{_escaped(edge.about)}</title></path>"
    )


def _text(text: Text, at: complex, height: float) -> str:
    x, y = _number(text.at.real + at.real), _number(height - text.at.imag - at.imag)
    turn = f' transform="rotate({_number(-text.angle)} {x} {y})"' if text.angle else ""
    return (
        f'<text class="{text.kind}" x="{x}" y="{y}" dy="{_number(text.size * CAPITAL)}" '
        f'font-size="{_number(text.size)}"{turn}>{_escaped(text.content)}</text>'
    )


def _data(path: Path, at: complex, height: float) -> str:
    """The path in SVG's words, y down."""
    up = complex(at.real, height - at.imag)

    def point(place: complex) -> str:
        return f"{_number(up.real + place.real)} {_number(up.imag - place.imag)}"

    parts = [f"M{point(path.start)}"]
    segments = path.segments
    if path.closed and isinstance(segments[-1], Line):
        segments = segments[:-1]  # Z draws it
    for segment in segments:
        if isinstance(segment, Cubic):
            ends = (segment.first, segment.second, segment.end)
            parts.append(f"C{' '.join(map(point, ends))}")
        elif isinstance(segment, Arc):
            for arc in _narrow(segment):
                # What turns anticlockwise on the paper does so on the screen: sweep flag 0.
                radius, flag = _number(arc.radius), 0 if arc.sweep > 0 else 1
                parts.append(f"A{radius} {radius} 0 0 {flag} {point(arc.end)}")
        else:
            parts.append(f"L{point(segment.end)}")
    if path.closed:
        parts.append("Z")
    return "".join(parts)


def _narrow(arc: Arc) -> Iterator[Arc]:
    count = max(1, math.ceil(abs(arc.sweep) / _WIDEST_ARC))
    for number in range(count):
        yield arc.part(number / count, (number + 1) / count)


def _number(value: float) -> str:
    """To 0.0001, without needless zeros."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _escaped(text: str) -> str:
    """Safe inside an element and inside double quotes; what XML cannot hold is shown as a box."""
    for mark, word in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;")):
        text = text.replace(mark, word)
    return text if text.isprintable() else "".join(map(_writable, text))


def _writable(letter: str) -> str:
    forbidden = letter < " " or "\ud800" <= letter <= "\udfff" or letter in "\ufffe\uffff"
    return "\ufffd" if forbidden else letter
