"""What makes a pattern sewable: seams walked, outlines closed, requirements met."""
