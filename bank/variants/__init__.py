"""A closed form to numbers: combinations of draws are judged over arrays, and those that keep all that holds go out.

The key comes from the numbers as printed and is rounded once; the tolerance is set here as well (``half_width``), and
here is told why a combination is no variant (``Judgement``).
"""
