"""Names and dimensions, checked before anything is drawn."""
