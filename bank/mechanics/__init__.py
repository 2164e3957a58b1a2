"""A problem to its equations: Newton's second law along the axes of each diagram, and the relations of the motion.

Components along inward, up and forward are positive. A new force law is a case of ``equations.magnitude``, a new
relation one of ``equations.built_in``; each needs a closed form derived by hand in ``tests/bank/solving``.
"""
