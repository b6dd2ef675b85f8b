"""How long each stage takes in a process that is warm, and how that grows with the pattern.

It is the time of the processor, which other processes hardly lengthen.
"""

from __future__ import annotations

import time
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

from oaktag.compiler.emit.svg import svg
from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.finish.unfinished import unfinished
from oaktag.compiler.inspect import inspect
from oaktag.compiler.sheet import lay_out
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load

if TYPE_CHECKING:
    from collections.abc import Callable

SIZES = (1, 10, 100, 1000)

HEAD = """\
pattern "Company stock"
measure waist_girth = 72 cm, hip_girth = 96 cm, waist_to_hip = 20 cm
use skirts.straight as block
"""

# What people do to one piece: a dart closed into a slash, two slashes spread, the hem blended.
PIECE = """
piece panel_{0} from block.front
  line flare = waist_dart.point down to hem
  close waist_dart into flare
  line slash[1] = on waist 1/4 from centre to on hem 1/4 from centre
  line slash[2] = on waist 1/2 from centre to on hem 1/2 from centre
  spread slash[1..2] by 3 cm at hem hinged on waist
  true hem, waist
"""


def stages(path: Path, rounds: int) -> dict[str, float]:
    """Median seconds of reading and checking, of evaluating, of looking the pattern and its
    allowances over, and of drawing an SVG: all that a check and a build do.
    """
    names = ("read and check", "evaluate", "look over", "draw svg")
    taken: dict[str, list[float]] = {name: [] for name in names}
    for number in range(rounds + 1):
        started = time.process_time()
        program = load(str(path), DiskFiles(str(path)))
        read = time.process_time()
        result = evaluate(program)
        drawn = time.process_time()
        if result.pattern is None:
            raise SystemExit(f"{path.name}: {result.diagnostics or program.diagnostics}")
        inspect(result.pattern)
        unfinished(result.pattern)
        seen = time.process_time()
        svg(lay_out(result.pattern))
        written = time.process_time()
        if number:  # the first round imports what is imported late
            for name, seconds in zip(
                taken, (read - started, drawn - read, seen - drawn, written - seen), strict=True
            ):
                taken[name].append(seconds)
    return {name: median(runs) for name, runs in taken.items()}


def example(path: Path, rounds: int) -> str:
    """The stages of one pattern."""
    lines = [f"{f'warm, {path.name}':<26}{'median ms':>11}"]
    lines += [f"{name:<26}{1000 * took:>11.2f}" for name, took in stages(path, rounds).items()]
    return "\n".join(lines)


def growth(folder: Path, rounds: Callable[[int], int]) -> str:
    """The stages of patterns of 1 to 1,000 pieces, each with the milliseconds a piece costs."""
    columns = ("read and check", "evaluate", "look over", "draw svg")
    lines = [f"{'warm, pieces':<14}" + "".join(f"{name:>22}" for name in columns)]
    for size in SIZES:
        path = folder / f"stock_{size}.oak"
        path.write_text(HEAD + "".join(PIECE.format(number) for number in range(size)))
        row = "".join(
            f"{1000 * took:>11.1f}{f'({1000 * took / size:.3f})':>11}"
            for took in stages(path, rounds(size)).values()
        )
        lines.append(f"{size:<14}{row}")
    return "\n".join(lines)
