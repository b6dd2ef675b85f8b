"""How long whole processes take, from start to end, against bare Python on the same machine.

What else the machine does makes them longer, but hardly the time of the processor they use. An
editable install adds its import hook to every process, bare Python too: measured, 15 ms.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import time
from pathlib import Path
from statistics import median

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FERRY = EXAMPLES / "ferry" / "ferry.oak"


def commands(out: Path) -> dict[str, list[str]]:
    """What is measured; the first two are what the rest is compared with."""
    oaktag = [sys.executable, "-m", "oaktag.compiler"]
    ferry = [str(FERRY), "--body", str(EXAMPLES / "bodies" / "ines.oak")]
    build = [*oaktag, "build", *ferry, "-o", str(out), "--to"]
    return {
        "python -c pass": [sys.executable, "-c", "pass"],
        "import lark": [sys.executable, "-c", "import lark"],
        "import click": [sys.executable, "-c", "import click"],
        "oaktag --help": [*oaktag, "--help"],
        "oaktag check": [*oaktag, "check", *ferry],
        "oaktag build --to svg": [*build, "svg"],
        "oaktag build --to json": [*build, "json"],
        "oaktag build --to dxf": [*build, "dxf"],
        "oaktag build --to pdf": [*build, "pdf"],
        "oaktag diff": [*oaktag, "diff", *ferry, "--body", str(EXAMPLES / "bodies" / "tamsin.oak")],
    }


def measure(folder: Path, rounds: int) -> dict[str, list[tuple[float, float]]]:
    """Seconds of each run, and of the processor; one of each in turn, after a first round that
    compiles the bytecode.

    Bytecode goes to a folder of its own, so that it is there however the machine is set.
    """
    environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(folder / "bytecode")}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    taken: dict[str, list[tuple[float, float]]] = {}
    for number in range(rounds + 1):
        for name, command in commands(folder / "out").items():
            start, used = time.perf_counter(), _processor()
            done = subprocess.run(
                command, env=environment, cwd=folder, capture_output=True, check=False
            )
            seconds = time.perf_counter() - start
            if done.returncode != 0:
                sys.exit(f"{name} failed:\n{done.stderr.decode()}{done.stdout.decode()}")
            if number:
                taken.setdefault(name, []).append((seconds, _processor() - used))
    return taken


def _processor() -> float:
    """Seconds of the processor that all processes started here have used."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def table(taken: dict[str, list[tuple[float, float]]]) -> str:
    """Medians and bests in milliseconds; how many times the processor's time of bare Python, and
    of `import lark`, the medians are.
    """
    bare, lark = (median(used for _, used in taken[name]) for name in list(taken)[:2])
    lines = [
        f"{'whole process':<24}{'median ms':>11}{'best ms':>9}{'processor':>11}{'best':>7}"
        f"{'x bare':>8}{'x lark':>8}"
    ]
    for name, runs in taken.items():
        seconds, used = zip(*runs, strict=True)
        lines.append(
            f"{name:<24}{1000 * median(seconds):>11.1f}{1000 * min(seconds):>9.1f}"
            f"{1000 * median(used):>11.1f}{1000 * min(used):>7.1f}"
            f"{median(used) / bare:>8.2f}{median(used) / lark:>8.2f}"
        )
    return "\n".join(lines)
