"""Equations to a closed form with the lines that lead to it, as on the board; letters only.

A bounded search eliminates the limit first, then forces, then geometry and kinematics; sine and cosine stand as
letters, so that every step is exact. What was solved is kept on disk by a digest of all it depends on: raise
``cache.FORMAT`` when results change.
"""
