"""From a checked program to paper, and from paper to files."""
