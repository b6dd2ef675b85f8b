"""What makes a piece cuttable: allowances, corners, labels."""
