"""The files of a project: a pattern with all it uses, bodies and charts."""
