"""Match questions: situations of other stories that are the same problem, so composed that words do not tell them.

In: the problems of a bank, and the diagram and scene that is asked about. Out: rows and columns with their partners, or
nothing where words would tell them in every composition. Touched: nothing.
"""
