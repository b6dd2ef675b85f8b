"""What reportlab cannot say: layers, larger units, a file without dates."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from oaktag.compiler.sheet.drawing import CUT, DRAWN, FOLD, GRAIN, INTAKE, LAYERS, MARKS, SEAM, TEXT

if TYPE_CHECKING:
    from oaktag.compiler.paging.page import Paged

NAMES = {
    CUT: "cut lines",
    SEAM: "seam lines",
    FOLD: "edges on the fold",
    INTAKE: "darts, pleats and gathers",
    DRAWN: "drawn lines",
    MARKS: "notches and marks",
    GRAIN: "grain lines",
    TEXT: "words",
    "page": "page: joins, squares, words",
}


def finished(data: bytes, made: Paged) -> bytes:
    """The file with its layers, its unit and what it says of itself."""
    import pikepdf
    from pikepdf import Array, Dictionary, Name, String

    with pikepdf.open(io.BytesIO(data)) as file:
        layers = {
            layer: file.make_indirect(
                Dictionary(Type=Name.OCG, Name=String(NAMES.get(layer, layer)))
            )
            for layer in (*LAYERS, "page")
        }
        file.Root.OCProperties = Dictionary(
            OCGs=Array(layers.values()),
            D=Dictionary(
                Name=String("all lines"),
                BaseState=Name.ON,
                Order=Array(layers.values()),
                ListMode=Name.AllPages,
            ),
        )
        for page in file.pages:
            page.Resources.Properties = Dictionary({f"/{name}": it for name, it in layers.items()})
            if "/Trans" in page.obj:
                del page.obj.Trans
            if made.unit > 1:
                page.obj.UserUnit = made.unit
        file.Root.ViewerPreferences = Dictionary(PrintScaling=Name("/None"), DisplayDocTitle=True)
        del file.docinfo
        file.docinfo[Name.Title] = String(made.title)
        about = [f"for {made.made_for}" if made.made_for else "", made.state]
        if any(about):
            words = ", ".join(filter(None, ("sewing pattern", *about)))
            file.docinfo[Name.Subject] = String(words)
        file.docinfo[Name.Creator] = String("Oaktag")
        stream = io.BytesIO()
        file.save(
            stream,
            min_version="1.6" if made.unit > 1 else "1.5",
            deterministic_id=True,
            compress_streams=True,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
        )
    return stream.getvalue()
