"""Files for people and machines: one module a format."""
