"""A drawing read from a file: its lines in mm, and whether the file says how large it is."""

from __future__ import annotations

from oaktag.compiler.geometry import Path
from oaktag.record import Record

MOST_BYTES = 10_000_000


class TracingError(Exception):
    """Why a drawing cannot be traced, and the way out."""

    def __init__(self, message: str, help: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.help = help


class Drawing(Record):
    """Lines with y upward. scaled: whether the file states its size; if not, a unit is 1 mm."""

    lines: tuple[Path, ...]
    scaled: bool


def read_drawing(name: str, data: bytes) -> Drawing:
    """Reads an SVG or DXF drawing, told apart by the ending of its name."""
    if len(data) > MOST_BYTES:
        raise TracingError(
            f"{name} holds {len(data) / 1e6:.0f} MB: at most 10 MB are traced",
            "leave out pictures and everything but the piece",
        )
    ending = name.rpartition(".")[2].lower()
    if ending == "svg":
        from oaktag.compiler.tracing.svg import read_svg

        return read_svg(name, data)
    if ending == "dxf":
        from oaktag.compiler.tracing.dxf import read_dxf

        return read_dxf(name, data)
    raise TracingError(
        f"{name} is neither an SVG nor a DXF file", "save the drawing as .svg or .dxf"
    )
