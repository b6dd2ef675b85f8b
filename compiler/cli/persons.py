"""What the settings file says of where files go, for whom they are made, and with which choices."""

from __future__ import annotations

import os
from typing import Any

from oaktag.compiler.cli.options import no_file

GIVEN = ("out", "body", "chart", "size", "set")
_EXAMPLES = {
    "out": "prints",
    "body": "bodies/ines.oak",
    "chart": "en13402_women",
    "size": "12",
}
_SET = 'write `set = ["length = 60 cm"]`, each choice between quotes of its own'


class Wrong(ValueError):  # noqa: N818  (nothing failed)
    """way_out: what to do about it."""

    def __init__(self, words: str, way_out: str = "") -> None:
        super().__init__(words)
        self.way_out = way_out


class Inside:
    """Reads these settings in a project's folder, out of which no path may lead."""

    def __init__(self, folder: str) -> None:
        self.folder = folder

    def read(self, key: str, written: object) -> Any:
        """What a key says: text, or for `set` names with what is written for them; raises Wrong.

        Paths are given back as they are seen from where the command is run.
        """
        if key == "set":
            return _choices(written)
        if key == "size" and isinstance(written, int | float) and not isinstance(written, bool):
            return str(written)
        if not isinstance(written, str) or not written.strip():
            example = f'{key} = "{_EXAMPLES[key]}"'
            raise Wrong(f"what `{key}` is stands between quotes, like `{example}`")
        if key == "size":
            return written
        if key == "chart" and self._is_shipped(written):
            return written
        path = self._path(written)
        if key != "out" and not os.path.isfile(path):
            raise Wrong(no_file(path))
        return path

    def _is_shipped(self, chart: str) -> bool:
        """Whether it is the name of a chart that comes with Oaktag, not of a file here."""
        from oaktag.compiler.cli.project import chart_path

        there = os.path.lexists(os.path.join(self.folder, chart))
        return not there and not os.path.dirname(chart) and chart_path(chart) != chart

    def _path(self, written: str) -> str:
        root = os.path.realpath(self.folder)
        path = os.path.realpath(os.path.join(root, written))
        if os.path.isabs(written) or (path != root and not path.startswith(root + os.sep)):
            raise Wrong(
                f"`{written}` leads out of the project",
                "write it as it is reached from the folder of this file; another folder for the "
                "outputs can be named in the call, with -o",
            )
        near = os.path.relpath(path)
        return path if near.count(os.pardir) > 3 else near


def _choices(written: object) -> dict[str, str]:
    """`["length = 60 cm", "buttons = 5"]`, one such text, or names with their values."""
    if isinstance(written, dict):
        pairs = [(name, _said(value)) for name, value in written.items()]
    else:
        lines = [written] if isinstance(written, str) else written
        if not isinstance(lines, list) or not all(isinstance(line, str) for line in lines):
            raise Wrong("what is set stands between quotes", _SET)
        pairs = []
        for line in lines:
            name, _, value = (part.strip() for part in line.partition("="))
            pairs.append((name, value))
    found: dict[str, str] = {}
    for name, value in pairs:
        if not name or not value:
            raise Wrong(f"`{name or value}` is no setting", _SET)
        if name in found:
            raise Wrong(f"`{name}` is set twice", "keep one of the two")
        found[name] = value
    return found


def _said(value: object) -> str:
    """A value as the language has it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float | str):
        return str(value)
    raise Wrong("what is set stands between quotes", _SET)
