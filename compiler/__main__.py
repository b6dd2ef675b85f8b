"""`python -m oaktag.compiler` is the command `oaktag`."""

from __future__ import annotations

from oaktag.compiler.cli import main

main()
