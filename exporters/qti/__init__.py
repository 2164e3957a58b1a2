"""QTI 3.0, 2.2 and 2.1, and their one writer: an adapted pack comes in, a content package goes out.

All is written in the names of 3.0; ``renaming`` turns a whole tree into those of 2.2 or 2.1. A module for each format
states what it can carry; of a series of number items the second of a kind is written as bytes with places for numbers.
"""
