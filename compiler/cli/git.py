"""`oaktag git`: lets git show patterns as paper, in one repository."""

from __future__ import annotations

import os
import shlex
import stat
import sys
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Sequence

ATTRIBUTES = ".gitattributes"
LINE = "*.oak diff=oaktag"
BEGIN, END = "# >>> oaktag", "# <<< oaktag"
SECTION = "diff.oaktag"


@click.group()
def git() -> None:
    """Let git show what a change did to the paper, in this repository only.

    \b
    Example:
      oaktag git setup
      git diff ferry.oak
      oaktag git undo
    """


@git.command()
def setup() -> None:
    """Set this repository up: git diff and git log -p show figures beside the text of a pattern,
    and a commit of patterns that are untidy or cannot be sewn is refused.

    It writes one line into .gitattributes, three settings into the repository's own configuration
    and a few lines into its pre-commit hook. `oaktag git undo` takes them out again.

    \b
    Example:
      oaktag git setup
    """
    top = _top()
    _attributes(top, wanted=True)
    asked = f"{_oaktag()} outline --with-text"
    _run(top, "config", "--local", f"{SECTION}.textconv", asked)
    _run(top, "config", "--local", f"{SECTION}.cachetextconv", "false")
    _run(top, "config", "--local", f"{SECTION}.xfuncname", "^((piece|pattern|use) .*)$")
    hook = _hook(top)
    _hooked(hook, wanted=True)
    click.echo(f"{os.path.join(top, ATTRIBUTES)}: {LINE}")
    click.echo("git diff and git log -p show the figures of pieces and seams")
    click.echo(f"{hook}: what is committed must pass `oaktag fmt --check` and `oaktag check`")
    click.echo("`oaktag git undo` takes it all out again")


@git.command()
def undo() -> None:
    """Take out what `oaktag git setup` wrote.

    \b
    Example:
      oaktag git undo
    """
    top = _top()
    done = _attributes(top, wanted=False)
    done |= _run(top, "config", "--local", "--remove-section", SECTION, check=False) is not None
    done |= _hooked(_hook(top), wanted=False)
    click.echo("git shows patterns as plain text again" if done else "there was nothing to undo")


def _top() -> str:
    """The top folder of the repository around the place where the command was called."""
    from oaktag.lang.project.files import Refused
    from oaktag.lang.project.revision import repository

    try:
        return repository(os.path.join(os.getcwd(), "any"))
    except Refused as why:
        if why.code != "no-repository":
            raise click.ClickException(f"{why}; {why.help}") from None
        raise click.ClickException(
            "this folder is not in a git repository; `git init` makes one"
        ) from None


def _run(top: str, *words: str, check: bool = True) -> bytes | None:
    from oaktag.lang.project.revision import run

    answer = run(top, *words)
    if answer is None and check:
        raise click.ClickException(f"git would not do `git {' '.join(words)}`; nothing is set up")
    return answer


def _oaktag() -> str:
    """How git is to call Oaktag: by the Python it is installed for, wherever that lies."""
    return f"{shlex.quote(sys.executable)} -m oaktag.compiler"


def _hook(top: str) -> str:
    """Where the repository keeps its pre-commit hook."""
    found = _run(top, "rev-parse", "--git-path", "hooks/pre-commit") or b""
    return os.path.join(top, found.decode().strip())


def _attributes(top: str, wanted: bool) -> bool:
    """Puts the line for patterns in or takes it out; whether anything changed."""
    path = os.path.join(top, ATTRIBUTES)
    lines = _lines(path)
    rest = [line for line in lines if line.strip() != LINE]
    return _written(path, lines, [*rest, LINE] if wanted else rest)


def _hooked(path: str, wanted: bool) -> bool:
    """The same for the hook: what others wrote into it stays."""
    lines = _lines(path)
    rest: list[str] = []
    inside = False
    for line in lines:
        inside = inside or line == BEGIN
        if not inside:
            rest.append(line)
        inside = inside and line != END
    if not wanted:
        return _written(path, lines, [] if rest == ["#!/bin/sh"] else rest)
    if rest and not rest[0].startswith("#!"):
        rest.insert(0, "#!/bin/sh")
    if rest and not _is_shell(rest[0]):
        raise click.ClickException(
            f"{path} is not a shell script, so nothing is added to it; let it call "
            "`oaktag fmt --check` and `oaktag check` for the patterns that are committed"
        )
    # First, so that an `exit` or `exec` further down does not come before it.
    changed = _written(path, lines, [rest[0] if rest else "#!/bin/sh", *_check(), *rest[1:]])
    os.chmod(path, os.stat(path).st_mode | stat.S_IXUSR | stat.S_IXGRP | stat.S_IXOTH)
    return changed


def _is_shell(line: str) -> bool:
    return line.split("/")[-1].split()[-1] in ("sh", "bash", "dash", "zsh", "ksh")


def _check() -> list[str]:
    """The lines of the hook. What is staged is written to a folder of its own and checked there,
    so that what is not committed does not count.
    """
    oaktag = _oaktag()
    return [
        BEGIN,
        "(",
        "  staged=$(mktemp -d) || exit 1; trap 'rm -rf \"$staged\"' EXIT",
        "  git diff --cached --name-only --diff-filter=ACMR -z -- '*.oak' >\"$staged.list\"",
        '  [ -s "$staged.list" ] || { rm -f "$staged.list"; exit 0; }',
        '  git checkout-index --all --prefix="$staged/" || exit 1',
        '  touch "$staged/oaktag.toml"; cd "$staged" || exit 1',
        f'  xargs -0 {oaktag} fmt --check <"$staged.list" && '
        f'xargs -0 {oaktag} check --lines --any-body <"$staged.list"',
        '  passed=$?; rm -f "$staged.list"; exit "$passed"',
        ") || exit 1",
        END,
    ]


def _lines(path: str) -> list[str]:
    try:
        with open(path, encoding="utf-8") as file:
            return file.read().splitlines()
    except FileNotFoundError:
        return []
    except UnicodeDecodeError:
        raise click.ClickException(f"{path} is not a text, so it is left alone") from None


def _written(path: str, old: Sequence[str], new: Sequence[str]) -> bool:
    from oaktag.compiler.cli.write import write_files

    if list(old) == list(new):
        return False
    if new:
        write_files({path: ("\n".join(new) + "\n").encode()})
    else:
        os.unlink(path)
    return True
