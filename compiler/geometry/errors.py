"""What the kernel says when a figure cannot be drawn."""

from __future__ import annotations


class GeometryError(ValueError):
    """A figure that cannot be drawn as asked; its message is plain words with figures in mm."""
