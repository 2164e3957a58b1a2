"""QTI 1.2.1 and Common Cartridge 1.3."""
