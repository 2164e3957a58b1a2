"""What becomes of a pack where a format lacks something: neutral items come in, adapted ones and a table go out.

The table tells what was changed or left out. A format states its ``Capacity``; ``adaptation`` decides, and a writer
gets only what it can write. Nothing here knows a format, and the proof holds a file against the same adapted items.
"""
