"""What packages of all formats share: the zip and its drawings, names, what catalogues learn, what candidates are told.

An adapted pack comes in; members go through ``package``, which puts the whole file in place of its target at the end.
Names count only: no authoring id is in them.
"""
