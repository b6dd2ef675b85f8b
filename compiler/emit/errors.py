"""What an output cannot hold."""

from __future__ import annotations


class OutputError(Exception):
    """A drawing that a paper, a machine or a format cannot take.

    message: what and by how much, in words of the workroom. help: the way out.
    """

    def __init__(self, message: str, help: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.help = help
