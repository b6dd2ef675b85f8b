"""`python tests/bench/run.py [ROUNDS]`: how fast Oaktag is here, in medians and ratios of one run.

Nothing is asserted: times are of this machine and this minute, and only their ratios travel.
"""

from __future__ import annotations

import platform
import sys
import tempfile
from pathlib import Path

import processes
import shaping
import stages
import watching


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    print(f"Python {platform.python_version()}, {platform.machine()}, {rounds} rounds\n")
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        print(processes.table(processes.measure(folder, rounds)), end="\n\n")
        print(stages.example(processes.FERRY, rounds), end="\n\n")
        print(watching.table(folder, rounds), end="\n\n")
        print(shaping.table(folder, min(rounds, 5)), end="\n\n")
        print(stages.growth(folder, lambda size: max(1, min(rounds, 300 // size))))


if __name__ == "__main__":
    main()
