"""What is given wherever a pattern is worked out: a body or a size, and other choices."""

from __future__ import annotations

import os
from functools import wraps
from typing import TYPE_CHECKING, Any

import click

from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping


class _FileName(click.Path):
    """A file that is there; of one that is not, what it may be called."""

    name = "file"

    def __init__(self) -> None:
        super().__init__(exists=True, dir_okay=False)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        if isinstance(value, str) and not os.path.lexists(value):
            self.fail(no_file(value), param, ctx)
        return super().convert(value, param, ctx)


def no_file(name: str) -> str:
    """That there is no such file, and which one may be meant."""
    words = f"there is no file `{name}`"
    folder, own = os.path.split(name)
    try:
        there = sorted(os.listdir(folder or "."))
    except OSError:
        return f"{words}; there is no folder `{folder}` either"
    from oaktag.lang.words import nearest

    endings = (".oak", ".csv")
    named = [one for one in there if one.endswith(endings)]
    stems = {os.path.splitext(one)[0].lower(): one for one in reversed(named)}
    stem = os.path.splitext(own)[0].lower()
    meant = stems.get(stem) or stems.get(nearest(stem, stems), "")
    return f"{words}; did you mean `{os.path.join(folder, meant)}`?" if meant else words


FILE_NAME = _FileName()


class Given(Record):
    """body, or chart and size, or neither; settings: names with what was written for them."""

    body: str | None
    chart: str | None
    size: str | None
    settings: dict[str, str]


def settings(_: click.Context, parameter: click.Parameter, values: tuple[str, ...]) -> Any:
    """Checks `NAME=VALUE` given again and again, and collects it."""
    found: dict[str, str] = {}
    for value in values:
        name, equals, written = (part.strip() for part in value.partition("="))
        if name and not written:
            raise click.BadParameter(
                f"`{value}` says no value: put name and value between one pair of quotes, like "
                f'{parameter.opts[0]} "{name} = 60 cm"',
                param=parameter,
            )
        if not (name and equals):
            raise click.BadParameter(
                f"`{value}` is no setting: write {parameter.opts[0]} NAME=VALUE", param=parameter
            )
        if name in found:
            raise click.BadParameter(f"`{name}` is set twice", param=parameter)
        found[name] = written
    return found


_OPTIONS = (
    click.option(
        "--body",
        metavar="FILE",
        type=FILE_NAME,
        help="The body it is made for.",
    ),
    click.option(
        "--chart",
        metavar="CSV",
        help="A size chart, to be used with --size; `en13402_women` comes with Oaktag.",
    ),
    click.option("--size", metavar="NAME", help="The row of the chart."),
    click.option(
        "--set",
        "settings",
        metavar="NAME=VALUE",
        multiple=True,
        callback=settings,
        help='A choice, once for each: --set "length = 58 cm".',
    ),
)
_PRESET = click.option(
    "--as",
    "preset",
    metavar="NAME",
    help="Body, size and choices that `oaktag.toml` gives under [outputs.NAME].",
)


def with_called(command: Callable[..., None]) -> Callable[..., None]:
    """Adds the options to a command, which receives them as one `given`, as the call has them."""

    @wraps(command)
    def collected(
        body: str | None,
        chart: str | None,
        size: str | None,
        settings: dict[str, str],
        **rest: Any,
    ) -> None:
        command(given=Given(body, chart, size, settings), **rest)

    for option in reversed(_OPTIONS):
        collected = option(collected)
    return collected


def with_given(command: Callable[..., None]) -> Callable[..., None]:
    """Adds the options and `--as` to a command that has a `file` or `files`; it receives them as
    one `given`, with what the settings of the project add to it.
    """

    @wraps(command)
    def collected(given: Given, preset: str | None, **rest: Any) -> None:
        if preset is not None:
            from oaktag.compiler.cli.presets import levels_of

            file = rest.get("file") or rest["files"][0]
            for level in reversed(levels_of(file, preset)):
                given = over(level.given, given)
        command(given=fitting(given), **rest)

    return with_called(_PRESET(collected))


def over(level: Mapping[str, Any], given: Given) -> Given:
    """What is given, and where it says nothing what a level of the settings says: body, chart,
    size and set.
    """
    body, chart, size = given.body, given.chart, given.size
    if not (body or chart or size):
        body = level.get("body")
    if not body:
        chart, size = chart or level.get("chart"), size or level.get("size")
    return Given(body, chart, size, {**level.get("set", {}), **given.settings})


def fitting(given: Given) -> Given:
    """The same; raises UsageError if it does not go together."""
    if given.body and (given.chart or given.size):
        raise click.UsageError("give either --body or --chart with --size, not both")
    if bool(given.chart) != bool(given.size):
        missing = "--size NAME" if given.chart else "--chart CSV"
        raise click.UsageError(f"--chart and --size go together; {missing} is missing")
    return given
