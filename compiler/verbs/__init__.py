"""What can be done to a piece: one module a verb, each with one public function."""
