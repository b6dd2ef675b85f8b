"""The patterns that come with oaktag, written in its own language."""
