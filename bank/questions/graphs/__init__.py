"""Which graph shows how the answer depends on one of the givens: lines from closed forms, right and mistaken ones.

In: a solved question with its mistaken forms. Out: what is varied, a choice entry, a last step. Touched: nothing.
"""
