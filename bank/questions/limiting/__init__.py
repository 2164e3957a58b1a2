"""Questions about slight changes at a limit: solved questions come in, what is asked about them and its key go out.

What fails past a limit follows from what its bound is; what a change does there, from the equations. What is drawn of
it is integrated from the forces of the diagram.
"""
