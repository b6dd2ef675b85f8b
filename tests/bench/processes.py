"""How long whole processes take, from start to end, against bare Python on the same machine."""

from __future__ import annotations

import os
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
    }


def measure(folder: Path, rounds: int) -> dict[str, list[float]]:
    """Seconds of each run, one of each in turn, after a first round that compiles the bytecode.

    Bytecode goes to a folder of its own, so that it is there however the machine is set.
    """
    environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(folder / "bytecode")}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    taken: dict[str, list[float]] = {}
    for number in range(rounds + 1):
        for name, command in commands(folder / "out").items():
            start = time.perf_counter()
            done = subprocess.run(
                command, env=environment, cwd=folder, capture_output=True, check=False
            )
            seconds = time.perf_counter() - start
            if done.returncode != 0:
                sys.exit(f"{name} failed:\n{done.stderr.decode()}{done.stdout.decode()}")
            if number:
                taken.setdefault(name, []).append(seconds)
    return taken


def table(taken: dict[str, list[float]]) -> str:
    """Medians in milliseconds, and how many times bare Python and `import lark` that is."""
    bare, lark = (median(taken[name]) for name in list(taken)[:2])
    lines = [f"{'whole process':<26}{'median ms':>11}{'best ms':>10}{'x bare':>9}{'x lark':>9}"]
    for name, runs in taken.items():
        middle = median(runs)
        lines.append(
            f"{name:<26}{1000 * middle:>11.1f}{1000 * min(runs):>10.1f}"
            f"{middle / bare:>9.2f}{middle / lark:>9.2f}"
        )
    return "\n".join(lines)
