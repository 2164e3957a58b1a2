"""Values with units: a unit's text comes in, and SI factors, dimensions and printed numbers go out.

SI inside, printed units outside; significant figures belong to a ``Quantity``. A new unit is a row in ``units`` (and
its words in ``bank.language``); Pint does the arithmetic and is never given a stranger's text.
"""
