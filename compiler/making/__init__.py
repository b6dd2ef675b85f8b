"""What a cutter needs besides the pieces: cut list, materials, and the order of making up."""
