"""A print as PDF, by reportlab; layers, which it does not know, are added by pikepdf."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from oaktag.compiler.emit.errors import OutputError
from oaktag.compiler.emit.pdf.draw import Brush
from oaktag.compiler.emit.pdf.finish import finished
from oaktag.compiler.emit.pdf.letters import REGULAR, face
from oaktag.compiler.paging import PagingError
from oaktag.compiler.paging.pages import paged

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.paging import Paging
    from oaktag.compiler.paging.page import Paged
    from oaktag.compiler.sheet.drawing import Sheet

POINT = 72 / 25.4  # units of a page in a millimetre


def pdf(sheet: Sheet, paging: Paging, progress: Callable[[int, int], None] | None = None) -> bytes:
    """The drawing as one PDF file, paged as asked; the same bytes for the same drawing.

    progress: is called with how many pages are done, and how many there are. Raises OutputError
    where the paper does not take the drawing.
    """
    try:
        made = paged(sheet, paging)
    except PagingError as why:
        raise OutputError(why.message, why.help) from None
    return finished(_drawn(made, progress), made)


def _drawn(made: Paged, progress: Callable[[int, int], None] | None) -> bytes:
    from reportlab.pdfgen.canvas import Canvas

    scale = POINT / made.unit
    stream = io.BytesIO()
    face(REGULAR)  # reportlab starts each page with a font, and would take one that is not embedded
    canvas: Any = Canvas(stream, invariant=1, pageCompression=0, initialFontName=REGULAR)
    for number, page in enumerate(made.pages, 1):
        canvas.setPageSize((page.width * scale, page.height * scale))
        Brush(canvas, scale, made).page(page)
        canvas.showPage()
        if progress:
            progress(number, len(made.pages))
    canvas.save()
    return stream.getvalue()
