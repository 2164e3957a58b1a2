"""A quantity that follows from the slope of a straight line through measured values.

In: a solved question, a seed. Out: what to plot, a table, a number entry, a last step. Touched: nothing.
"""
