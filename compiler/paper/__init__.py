"""The paper model: piece, edge, run, dart, opening, mark and step, all immutable."""
