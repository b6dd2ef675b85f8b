"""Oaktag: sewing patterns as text, compiled to full-size, checked pieces."""

__version__ = "0.1.0"
