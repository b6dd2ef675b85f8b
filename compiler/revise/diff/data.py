"""The changes for other programs: plain values, millimetres and degrees."""

from __future__ import annotations

import json
from typing import Any

from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.revise.diff.changes import Changes
from oaktag.compiler.revise.diff.words import sentences
from oaktag.record import Record

_FIGURES = 6


def as_json(changes: Changes) -> str:
    """Every change by the names of its parts, and the sentences that tell them."""
    data = _plain(changes) | {"sentences": sentences(changes)}
    return json.dumps(data, ensure_ascii=False, indent=2)


def _plain(value: Any) -> Any:
    if isinstance(value, Quantity):
        return round(float(value.amount), _FIGURES) + 0.0
    if isinstance(value, Record):
        return {name: _plain(getattr(value, name)) for name in value.fields}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if isinstance(value, float):
        return round(value, _FIGURES) + 0.0
    return value
