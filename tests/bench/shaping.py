"""How long single shapes take to draw: darts, flounces, pleats and spreads with many lines."""

from __future__ import annotations

import time
from statistics import median
from typing import TYPE_CHECKING

from oaktag.compiler.evaluate import evaluate
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load

if TYPE_CHECKING:
    from pathlib import Path

STRIP = """\
piece cloth
  strip {length} by 60 cm
  repeat i from 1 to {count}
    {word} cut[i] = on base (i - 1/2) / {count} from start
      {to} on top (i - 1/2) / {count} from start{bowed}
  spread cut[1..{count}] by {opening}
"""


def strip(
    count: int, opening: str, length: str = "300 cm", more: str = "", curved: bool = False
) -> str:
    """A strip with so many lines across, all opened."""
    return (
        STRIP.format(
            count=count,
            opening=opening,
            length=length,
            word="curve" if curved else "line",
            to="curve to" if curved else "to",
            bowed=" bowed right 5 mm" if curved else "",
        )
        + more
    )


FISH_EYE = """\
piece front
  strip 40 cm by 60 cm
  line middle = on base 1/2 up 20 cm to on base 1/2 up 50 cm
  dart tuck along middle intake 3 cm at on middle 1/3
"""

ADJUSTED = """\
adjust opening from 0 in to 9 in until length(flounce.base) = 112 in
piece flounce
  strip 72 in by 12 in
  repeat i from 1 to 24
    line slash[i] = on base i / 25 from start to on top i / 25 from start
  spread slash[1..24] by opening at base hinged on top
  true top, base
"""

SHAPES = {
    "fish-eye dart": FISH_EYE,
    "60-gore flounce, trued": strip(
        60, "2 cm at base hinged on top", "180 cm", "  true top, base\n"
    ),
    "40-pleat panel, trimmed": strip(
        40, "24 mm as pleat", "100 cm", "  fold-trim cut[1..40] toward right\n"
    ),
    "40 tapering pleats, trued": strip(
        40,
        "24 mm at base and 20 mm at top as pleat",
        "100 cm",
        "  fold-trim cut[1..40] toward right\n  true base, top\n",
    ),
    "spread of 200 lines": strip(200, "1 cm at base hinged on top"),
    "200 lines, trued": strip(200, "1 cm at base hinged on top", more="  true base, top\n"),
    "spread of 200 curves": strip(200, "1 cm", curved=True),
    "flounce swept by adjust": ADJUSTED,
}


def table(folder: Path, rounds: int) -> str:
    """Median milliseconds of evaluating each shape; reading and checking is not counted."""
    lines = [f"{'warm, one shape':<28}{'median ms':>11}"]
    for name, text in SHAPES.items():
        path = folder / f"{name.replace(' ', '_')}.oak"
        path.write_text(f'pattern "Shape"\n{text}')
        program = load(str(path), DiskFiles(str(path)))
        taken = []
        for _ in range(rounds + 1):
            started = time.process_time()
            result = evaluate(program)
            taken.append(time.process_time() - started)
            if result.pattern is None:
                raise SystemExit(f"{name}: {result.diagnostics or program.diagnostics}")
        lines.append(f"{name:<28}{1000 * median(taken[1:]):>11.1f}")
    return "\n".join(lines)
