"""Whether a drawing is its own mirror image."""

from __future__ import annotations

import cmath
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.motion import Motion, reflection

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from oaktag.compiler.geometry.path import Path

_ROUND = 1e-3  # of the spread of an area: less does not tell its long axis from its short one


def mirrors(ring: Path, ways: Iterable[complex], tolerance: float) -> Iterator[Motion]:
    """The reflections that carry a closed path to itself, within a tolerance in mm.

    An axis of symmetry runs through the centre of the area. Those looked at are its main axes, and
    those in the directions `ways` and square to them.
    """
    places = ring.flattened(tolerance / 2)
    centre, axis = _main_axis(places)
    tried: list[complex] = []
    for way in (*([axis] if axis else []), *(way / abs(way) for way in ways)):
        for along in (way, way * 1j):
            if any(abs((along / other).imag) < 1e-9 for other in tried):
                continue
            tried.append(along)
            motion = reflection(centre, centre + along)
            if carries(motion, [ring], tolerance):
                yield motion


def carries(motion: Motion, paths: Sequence[Path], tolerance: float) -> bool:
    """Whether a motion carries paths to places on those paths, within a tolerance in mm."""
    return all(
        min(path.distance(motion(place)) for path in paths) <= tolerance
        for own in paths
        for place in own.flattened(tolerance / 2)
    )


def _main_axis(places: Sequence[complex]) -> tuple[complex, complex | None]:
    """The centre of an area and the direction in which it spreads most; none if it has none."""
    area, moment = 0.0, 0j
    origin = places[0]
    rays = [place - origin for place in places]
    pairs = list(zip(rays, [*rays[1:], rays[0]], strict=True))
    for one, other in pairs:
        slice_area = (one.conjugate() * other).imag / 2
        area += slice_area
        moment += slice_area * (one + other) / 3
    centre = moment / area
    # Of each triangle at the centre the second moment, as that of the squares of its places.
    squares, spread = 0j, 0.0
    for one, other in ((a - centre, b - centre) for a, b in pairs):
        slice_area = (one.conjugate() * other).imag / 2
        squares += slice_area * (one * one + one * other + other * other) / 6
        spread += (
            slice_area * (abs(one) ** 2 + (one * other.conjugate()).real + abs(other) ** 2) / 6
        )
    if abs(squares) <= _ROUND * abs(spread):
        return origin + centre, None
    turned = squares if area > 0 else -squares
    return origin + centre, cmath.exp(0.5j * cmath.phase(turned))
