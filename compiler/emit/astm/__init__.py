"""The ASTM D6673 form, for the exchange of patterns."""

from __future__ import annotations

from oaktag.compiler.emit.astm.file import astm

__all__ = ["astm"]
