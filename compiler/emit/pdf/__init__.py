"""PDF at true scale, as sheets to be pasted together, for a roll, or for a projector."""

from __future__ import annotations

from oaktag.compiler.emit.pdf.letters import LACKING, missing_letters
from oaktag.compiler.emit.pdf.write import pdf
from oaktag.compiler.paging import Paging, paper_size

__all__ = ["LACKING", "Paging", "missing_letters", "paper_size", "pdf"]
