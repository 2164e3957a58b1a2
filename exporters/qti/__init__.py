"""QTI 3.0, 2.2 and 2.1, and their one writer."""
