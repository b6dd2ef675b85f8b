"""From text to nodes and back: layout, words, grammar, parsing, formatting."""
