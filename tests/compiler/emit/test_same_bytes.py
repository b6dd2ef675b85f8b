"""The same input gives the same bytes in any process."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

FERRY = Path(__file__).parents[2] / "programs" / "ferry.oak"
WRITE = """
import sys
from hashlib import sha256
from oaktag.compiler.emit.json import as_json
from oaktag.compiler.emit.svg import svg
from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.sheet import lay_out
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load
program = load(sys.argv[1], DiskFiles(sys.argv[1]))
pattern = evaluate(program).pattern
for made in (svg(lay_out(pattern)), as_json(pattern)):
    print(sha256(made).hexdigest(), len(made))
slow = {"shapely", "numpy", "ezdxf", "dataclasses", "inspect"} & set(sys.modules)
assert not slow, slow
"""


def test_svg_and_json_do_not_depend_on_the_process() -> None:
    made = set()
    for seed in ("0", "1", "99"):
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        command = [sys.executable, "-c", WRITE, str(FERRY)]
        done = subprocess.run(command, env=environment, capture_output=True, check=True)
        made.add(done.stdout)
    assert len(made) == 1
    assert len(made.pop().splitlines()) == 2
