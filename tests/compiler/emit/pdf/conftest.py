"""Prints looked at with programs we did not write: poppler, ghostscript, and qpdf by pikepdf."""

from __future__ import annotations

import io
import subprocess
from typing import TYPE_CHECKING

import numpy
import pikepdf
import pytest

from oaktag.compiler.emit.pdf import pdf
from oaktag.compiler.sheet import lay_out

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paging import Paging
    from oaktag.compiler.sheet import Sheet
    from tests.compiler.conftest import Board

DARK = 128


class Print:
    """A PDF on a disk. Rasters are arrays of booleans, true where ink is, row 0 at the head."""

    def __init__(self, path: Path, data: bytes, program: Callable[[str], str]) -> None:
        self.path = path
        self.data = data
        self.program = program
        path.write_bytes(data)

    def run(self, name: str, *arguments: str) -> str:
        command = [self.program(name), *arguments]
        done = subprocess.run(command, capture_output=True, check=True, timeout=60)
        assert done.stderr.decode() == ""
        return done.stdout.decode("utf-8", errors="replace")

    def raster(
        self, page: int, dpi: int, box: tuple[float, float, float, float] | None = None
    ) -> numpy.ndarray:
        """A page by poppler, or the part of it from x, y to x, y in mm from its upper left."""
        image = self.path.with_suffix("")
        crop: Sequence[str] = ()
        if box:
            left, head, right, foot = (round(side / 25.4 * dpi) for side in box)
            wide, high = right - left, foot - head
            crop = ("-x", f"{left}", "-y", f"{head}", "-W", f"{wide}", "-H", f"{high}")
        self.run(
            "pdftoppm", "-gray", "-r", f"{dpi}", "-f", f"{page}", "-l", f"{page}", "-singlefile",
            *crop, str(self.path), str(image),
        )  # fmt: skip
        return read_grey(image.with_suffix(".pgm"))

    def rasters(self, dpi: int) -> list[numpy.ndarray]:
        """All pages by poppler."""
        self.run(
            "pdftoppm", "-gray", "-r", f"{dpi}", str(self.path), str(self.path.with_suffix(""))
        )
        return [
            read_grey(path) for path in sorted(self.path.parent.glob(f"{self.path.stem}-*.pgm"))
        ]

    def by_ghostscript(self, page: int, dpi: int) -> numpy.ndarray:
        image = self.path.with_suffix(".gs.pgm")
        self.run(
            "gs", "-q", "-dBATCH", "-dNOPAUSE", "-dPDFSTOPONERROR", "-sDEVICE=pgmraw", f"-r{dpi}",
            f"-dFirstPage={page}", f"-dLastPage={page}", f"-sOutputFile={image}", str(self.path),
        )  # fmt: skip
        return read_grey(image)

    def words(self, page: int | None = None) -> str:
        pages = ("-f", f"{page}", "-l", f"{page}") if page else ()
        return self.run("pdftotext", "-layout", *pages, str(self.path), "-")

    @property
    def pages(self) -> int:
        with pikepdf.open(self.path) as file:
            return len(file.pages)

    def without(self, *layers: str) -> Print:
        """The same print with some layers switched off, as a viewer would."""
        with pikepdf.open(io.BytesIO(self.data)) as file:
            properties = file.Root.OCProperties
            off = [layer for layer in properties.OCGs if str(layer.Name) in layers]
            assert len(off) == len(layers)
            properties.D.OFF = pikepdf.Array(off)
            stream = io.BytesIO()
            file.save(stream)
        path = self.path.with_name(f"{self.path.stem}-less.pdf")
        return Print(path, stream.getvalue(), self.program)


def read_grey(path: Path) -> numpy.ndarray:
    """A picture in the simplest of formats: `P5 width height 255`, then the bytes."""
    data = path.read_bytes()
    path.unlink()
    kind, size, most, _ = data.split(b"\n", 3) if data[3:4] != b"#" else _commented(data)
    assert (kind, most) == (b"P5", b"255")
    wide, high = map(int, size.split())
    return numpy.frombuffer(data[-wide * high :], numpy.uint8).reshape(high, wide) < DARK


def _commented(data: bytes) -> tuple[bytes, bytes, bytes, bytes]:
    kind, _, size, most, rest = data.split(b"\n", 4)
    return kind, size, most, rest


@pytest.fixture(scope="session")
def printed(
    tmp_path_factory: pytest.TempPathFactory, program: Callable[[str], str]
) -> Callable[[Sheet, Paging], Print]:
    """`printed(sheet, paging)` is the print, to be looked at."""
    folder = tmp_path_factory.mktemp("prints")
    count = iter(range(1000))

    def made(sheet: Sheet, paging: Paging) -> Print:
        return Print(folder / f"print{next(count)}.pdf", pdf(sheet, paging), program)

    return made


# A panel with round corners: 40 cm wide and 60 cm high, no seam allowance.
PANEL = """
pattern "Sailcloth panel é Ω Ж"
piece panel
  top_left = origin
  top_right = origin right 40 cm
  foot_right = top_right down 60 cm
  foot_left = top_left down 60 cm
  outline
    head = top_left to top_right
    side = top_right to foot_right
    hem = foot_right to foot_left
    centre = foot_left to top_left
  grain along centre
  text "écoute ½" at top_left right 30 cm down 50 cm
"""


@pytest.fixture(scope="session")
def panel(board: Board) -> Sheet:
    """One rectangle, 400 by 600 mm: its sides are known."""
    return lay_out(board.pattern(PANEL), "size 38")


@pytest.fixture(scope="session")
def quarter(circle_pattern: Pattern) -> Sheet:
    """A quarter of a circle skirt with allowances and a fold: arcs and dashes."""
    sheet = lay_out(circle_pattern, "size 38")
    return sheet.changed(groups=tuple(g for g in sheet.groups if g.name == "quarter"))
