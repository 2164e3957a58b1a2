"""What is to be seen in a force diagram to a drawing whose parts touch nothing: a view comes in, shapes go out.

Layout only: directions and words come with the view, and no file format is known here.
"""
