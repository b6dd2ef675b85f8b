"""`oaktag new`: a project folder to begin with."""

from __future__ import annotations

import os
import re
import shlex
import shutil
from pathlib import Path

import click

from oaktag.compiler.cli.write import naming

PROJECT = """\
# This file marks an Oaktag project. Its patterns may use any file in this folder, and none outside.
language = 1

# What `oaktag build` makes where you say nothing, and outputs by name: take the # off a line.
# [build]
# to = "pdf"
# paper = "a4"

# [outputs.copyshop]    # oaktag build FILE --as copyshop
# to = "pdf"
# roll = "914mm"
"""

IGNORED = """\
# what `oaktag build` makes
out/
"""

BODY = """\
# A body to begin with: Marthe Quill, who sews and understudies for the Quayside Players.
# Copy this file for each person you measure.
body "Marthe Quill"
  waist_girth = 74 cm
  hip_girth = 99 cm
  waist_to_hip = 20.5 cm
"""

PATTERN = """\
oaktag 1
# Lines that begin with # are yours. One directly above a step becomes its caption.
pattern "{title}"

# What is measured on the body. These figures serve until you give a body with --body.
measure waist_girth = 72 cm, hip_girth = 96 cm, waist_to_hip = 20 cm

# A decision of style and how far it may go. Another one: --set "length = 72 cm"
choose length = 60 cm from 40 cm to 110 cm "finished length"

# A straight skirt comes with Oaktag. The indented lines set its choices.
use skirts.straight as block
  length = length
  hip_ease = 4 cm

# A piece starts as a copy; the block itself stays as it was.
piece front from block.front
  # the dart is closed and the hem opens into an A-line (a body without a waist has no dart)
  if block.shaped
    line flare = waist_dart.point down to hem
    close waist_dart into flare
    true waist within 3 mm
    true hem

piece back from block.back
  # the seam at the centre back stays open for a zip, down to 3 cm above the hips
  section opening = centre from on centre 0 from waist to on centre waist_to_hip - 3 cm from waist
  notch on centre at waist_to_hip - 3 cm from waist

# Seam allowances. A later line wins over an earlier one. The hem is turned up.
allow 1.5 cm on front, back
allow 4 cm on front.hem, back.hem as hem
allow none on front.waist, back.waist

sew front.side to back.side
sew back.centre to back.centre
fasten back.opening with zip
bind back.waist then front.waist with 1 cm double in main

cut 1 front in main
cut 2 back as pair in main

# Your own check: if the two lengths differ by more, the build stops and tells you both.
require sewn(front.side) = sewn(back.side) within 1 mm "side seams match"
"""


@click.command()
@click.argument("name", metavar="NAME")
def new(name: str) -> None:
    """Start a project folder: a pattern, a body and a .gitignore.

    Nothing that exists is overwritten.

    \b
    Example:
      oaktag new ferry_skirt
    """
    folder = Path(name)
    # `.` and `..` have no name of their own; the pattern file is called after the folder.
    word = folder.name
    if not re.fullmatch(r"[^\W\d_][\w-]*", word):
        raise click.BadParameter(
            f"`{word or name}` cannot be a project's name: use letters, digits, _ and -, "
            "beginning with a letter",
            param_hint="NAME",
        )
    if folder.exists() and not (folder.is_dir() and not any(folder.iterdir())):
        raise click.UsageError(f"`{name}` is already there; choose another name")
    title = word.replace("_", " ").replace("-", " ")
    contents = {
        f"{word}.oak": PATTERN.format(title=title[0].upper() + title[1:]),
        "bodies/marthe.oak": BODY,
        "oaktag.toml": PROJECT,
        ".gitignore": IGNORED,
    }
    _make(folder, contents)
    click.echo(f"{name} is ready. Next:")
    click.echo(f"  cd {shlex.quote(name)}")
    click.echo(f"  oaktag build {word}.oak --body bodies/marthe.oak -o out")


def _make(folder: Path, contents: dict[str, str]) -> None:
    """Writes a folder beside its place and moves it there when it is complete."""
    beside = folder.with_name(f".{folder.name}.{os.getpid()}.part")
    try:
        with naming(str(folder)):
            for name, text in contents.items():
                path = beside / name
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_text(text, encoding="utf-8", newline="\n")
            beside.replace(folder)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
