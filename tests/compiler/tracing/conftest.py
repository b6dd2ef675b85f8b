"""A block drawn by other programs, in every unit and with every kind of line."""

from __future__ import annotations

import io
import math
from itertools import pairwise

import ezdxf
import pytest
import svgwrite

# A skirt front in mm, y down, as it would be on a digitiser: corners clockwise from the upper left.
WAIST = ((0, 12), (70, 12), (150, 8), (210, 0))  # a cubic
HIP = ((210, 0), (235, 60), (250, 120), (250, 200))  # a cubic
FOOT = (250, 680)
CORNERS = ((0, 12), (210, 0), (250, 680), (0, 680))
NAMES = "waist, side, hem, centre"


class Block:
    """The same block written by different programs."""

    def svg(self, width="250mm", height="680mm", box="0 0 250 680", scale=1.0, transform=None):
        drawing = svgwrite.Drawing(size=(width, height)) if width else svgwrite.Drawing()
        if not width:
            del drawing.attribs["width"], drawing.attribs["height"]
        if box:
            drawing.attribs["viewBox"] = box
        path = drawing.path(d=self.path(scale), fill="none", stroke="black")
        if transform:
            group = drawing.g(transform=transform)
            group.add(path)
            path = group
        drawing.add(path)
        return drawing.tostring()

    def path(self, scale=1.0):
        def at(point):
            return f"{point[0] * scale:.6f},{point[1] * scale:.6f}"

        return (
            f"M{at(WAIST[0])} C{' '.join(map(at, WAIST[1:]))} C{' '.join(map(at, HIP[1:]))} "
            f"L{at(FOOT)} L{at((0, 680))} Z"
        )

    def lines(self, order=(0, 1, 2, 3, 4), turned=()):
        """Five separate lines in any order, some drawn the other way."""
        drawn = [WAIST, HIP, (HIP[3], FOOT), (FOOT, (0, 680)), ((0, 680), WAIST[0])]
        drawing = svgwrite.Drawing(size=("250mm", "680mm"), viewBox="0 0 250 680")
        for number in order:
            points = drawn[number][::-1] if number in turned else drawn[number]
            if len(points) == 4:
                control = " ".join(f"{x},{y}" for x, y in points[1:])
                drawing.add(drawing.path(d=f"M{points[0][0]},{points[0][1]} C{control}"))
            else:
                drawing.add(drawing.line(*points))
        return drawing.tostring()

    def dxf(self, unit=4, scale=1.0, separate=False, block=False):
        """$INSUNITS 4 is millimetres, 5 centimetres, 1 inches, 0 nothing said."""
        document = ezdxf.new("R2010")
        document.header["$INSUNITS"] = unit
        space = document.modelspace()
        if block:
            made = document.blocks.new("FRONT")
            space.add_blockref("FRONT", (100, 50))
            space = made

        def at(point):
            return (point[0] * scale, -point[1] * scale)

        for curve in (WAIST, HIP):
            spline = space.add_spline(degree=3)
            spline.control_points = [(*at(point), 0) for point in curve]
            spline.knots = [0, 0, 0, 0, 1, 1, 1, 1]
        straight = [HIP[3], FOOT, (0, 680), WAIST[0]]
        if separate:
            for start, end in pairwise(straight):
                space.add_line(at(end), at(start))
        else:
            space.add_lwpolyline([at(point) for point in straight])
        space.add_text("front", height=5 * scale).set_placement(at((100, 300)))
        stream = io.StringIO()
        document.write(stream)
        return stream.getvalue()


def bezier_length(points, count=20_000):
    """Length of a cubic as a chain of very many straight steps."""
    last, total = None, 0.0
    for k in range(count + 1):
        t = k / count
        s = 1 - t
        weights = (s**3, 3 * s * s * t, 3 * s * t * t, t**3)
        x, y = (sum(w * p[i] for w, p in zip(weights, points, strict=True)) for i in (0, 1))
        if last is not None:
            total += math.hypot(x - last[0], y - last[1])
        last = (x, y)
    return total


LENGTHS = {
    "waist": bezier_length(WAIST),
    "side": bezier_length(HIP) + 480,
    "hem": 250.0,
    "centre": 668.0,
}


@pytest.fixture(scope="session")
def block():
    return Block()


@pytest.fixture(scope="session")
def lengths():
    return LENGTHS


@pytest.fixture
def traced(board):
    """The piece traced from a file, with further lines."""

    def trace(data, name="front.svg", tail="", more="", edges=NAMES):
        text = f'piece front\n  trace "{name}" edges {edges}{tail}\n{more}'
        return board.pattern(text, files={name: data}).pieces["front"]

    return trace


@pytest.fixture
def refused(board):
    """The one thing that is wrong with tracing a file."""

    def wrong(data, name="front.svg", tail="", edges=NAMES):
        text = f'x = 1 cm\npiece front\n  trace "{name}" edges {edges}{tail}\n'
        found = board.wrong(text, files={} if data is None else {name: data})
        assert len(found) == 1, [one.message for one in found]
        return found[0]

    return wrong
