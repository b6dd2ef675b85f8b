"""Everything about a pattern on one page, to be read before it is cut and while it is sewn."""
