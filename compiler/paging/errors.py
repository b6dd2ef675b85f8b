"""What a paper cannot take."""

from __future__ import annotations


class PagingError(ValueError):
    """message: what does not fit, with the figures. help: the way out."""

    def __init__(self, message: str, help: str = "") -> None:
        super().__init__(f"{message} ({help})" if help else message)
        self.message = message
        self.help = help
