"""Graphs in words, and as they are to be seen before any layout: a line between two axes.

In: points as shares of the axes, letters, how the line goes. Out: a view, sentences. Touched: nothing.
"""
