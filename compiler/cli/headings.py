"""Help whose options stand under headings."""

from __future__ import annotations

from typing import Any

import click


class Headed(click.Option):
    """An option that is listed under a heading of its own."""

    def __init__(self, *names: Any, heading: str, **rest: Any) -> None:
        super().__init__(*names, **rest)
        self.heading = heading


class HeadedCommand(click.Command):
    """Lists the options without a heading first, then each heading in the order it is met."""

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        lists: dict[str, list[tuple[str, str]]] = {"Options": []}
        for parameter in self.get_params(ctx):
            record = parameter.get_help_record(ctx)
            if record is not None and isinstance(parameter, click.Option):
                heading = parameter.heading if isinstance(parameter, Headed) else "Options"
                lists.setdefault(heading, []).append(record)
        for heading, records in lists.items():
            with formatter.section(heading):
                formatter.write_dl(records)
