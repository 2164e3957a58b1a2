"""QTI 1.2.1 and cartridges read back."""
