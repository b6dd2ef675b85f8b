"""The page: a pattern to be looked at, measured and tried in a browser.

What it shows is worked out here; how it shows it is in `page.html`, `page.css` and `page.js`. It is
kept up to date by `oaktag watch`, or written as one file that stands by itself.
"""

from __future__ import annotations

from oaktag.compiler.page.html import html

__all__ = ["html"]
