"""QTI 1.2.1 and Common Cartridge 1.3: an adapted pack comes in, a content package or a cartridge goes out.

Items and their marking are written once; a ``Profile`` says what plain QTI and cartridges ask otherwise. Cartridges
hold assessments, or a bank.
"""
