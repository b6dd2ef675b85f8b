"""The command `oaktag`. Each of its commands stands in the module of its name."""

from __future__ import annotations

import atexit
import gc
import sys
from importlib import import_module
from typing import TYPE_CHECKING, Any, NoReturn

import click

from oaktag import __version__
from oaktag.compiler.cli.guard import guarded

if TYPE_CHECKING:
    from collections.abc import Sequence

COMMANDS = (
    "new",
    "check",
    "build",
    "ask",
    "fmt",
    "story",
    "watch",
    "diff",
    "outline",
    "log",
    "git",
)


class Commands(click.Group):
    """Imports a command's module only when it is called or its help is shown."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = import_module(f"oaktag.compiler.cli.{cmd_name}")
        command: click.Command = getattr(module, cmd_name)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, and for a word that is no command with what may be meant."""
        name = args[0]
        if name not in COMMANDS and not name.startswith("-"):
            from oaktag.lang.words import nearest

            low = name.lower()
            near = low if low in COMMANDS else nearest(low, COMMANDS)
            if name.endswith(".oak"):
                way_out = f"say what is to be done with it, like `oaktag check {name}`"
            elif near:
                way_out = f"did you mean `{near}`?"
            else:
                way_out = f"there are {', '.join(COMMANDS)}"
            raise click.UsageError(f"there is no command `{name}`; {way_out}", ctx)
        return super().resolve_command(ctx, args)

    def main(self, args: Sequence[str] | None = None, *_: Any, **__: Any) -> NoReturn:
        arguments = sys.argv[1:] if args is None else list(args)
        _collect_seldom()
        sys.exit(guarded(super().main, arguments))


def _collect_seldom() -> None:
    """Has Python look for garbage less often, and not at all when it ends.

    A command is over in a moment and leaves little; looking for it takes a tenth of that moment.
    """
    gc.set_threshold(100_000, 20, 20)
    atexit.register(gc.freeze)


@click.command(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="oaktag %(version)s")
def main() -> None:
    """Sewing patterns as text: full-size, checked pieces from a file you can read.

    \b
    Begin with:
      oaktag new my_skirt
    """
