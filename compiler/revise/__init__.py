"""What was done, and what changed between revisions."""
