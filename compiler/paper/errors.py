"""What cannot be done to a piece of paper, in the cutter's words."""

from __future__ import annotations


class PaperError(Exception):
    """Says what is wrong, with the figure, and the way out.

    `about` names the argument that is wrong (`hinge`, `lines`), so that the place can be shown.
    `lengths` are figures in mm that stand as {0}, {1}, … in the message and help: whoever shows
    them writes them in the unit of the file.
    """

    def __init__(
        self,
        message: str,
        *lengths: float,
        help: str = "",
        about: str = "",
        code: str = "paper",
        severity: str = "error",
    ) -> None:
        super().__init__(message)
        self.message = message
        self.lengths = lengths
        self.help = help
        self.about = about
        self.code = code
        self.severity = severity
