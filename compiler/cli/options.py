"""What is given wherever a pattern is worked out: a body or a size, and other choices."""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, Any

import click

from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Callable


FILE_NAME = click.Path(exists=True, dir_okay=False)


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
        if not (name and equals and written):
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


def with_given(command: Callable[..., None]) -> Callable[..., None]:
    """Adds the options to a command, which receives them as one `given`."""

    @wraps(command)
    def collected(
        body: str | None,
        chart: str | None,
        size: str | None,
        settings: dict[str, str],
        **rest: Any,
    ) -> None:
        if body and (chart or size):
            raise click.UsageError("give either --body or --chart with --size, not both")
        if bool(chart) != bool(size):
            missing = "--size NAME" if chart else "--chart CSV"
            raise click.UsageError(f"--chart and --size go together; {missing} is missing")
        command(given=Given(body, chart, size, settings), **rest)

    for option in reversed(_OPTIONS):
        collected = option(collected)
    return collected
