"""A scene to what a sketch of it shows, and the sentence that says so.

A problem, one of its diagrams and a scene come in; a view comes out, which names a setting (a track, a cord, a bank),
the look of the body, and where it stands. No force, velocity or acceleration is in it, and no line is laid out here.
"""
