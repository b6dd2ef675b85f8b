"""Which page shows which part of a drawing, and what is printed around it; without format."""

from __future__ import annotations

from oaktag.compiler.paging.errors import PagingError
from oaktag.compiler.paging.paging import Paging, for_projector, on_paper, on_roll
from oaktag.compiler.paging.papers import paper_size

__all__ = ["Paging", "PagingError", "for_projector", "on_paper", "on_roll", "paper_size"]
