"""The last step of a solution without numbers: the answer, said in words that name the key.

In: an entry as the candidate meets it, with the diagram that it is about. Out: one step. Touched: nothing.
"""
