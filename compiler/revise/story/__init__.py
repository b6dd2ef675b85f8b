"""How each piece was made, step by step, as pictures."""
