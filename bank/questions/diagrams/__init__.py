"""Which force diagram is right: a diagram of a problem and its mistakes come in, a choice between drawings goes out.

No picture is laid out here, and no option is there for its looks.
"""
