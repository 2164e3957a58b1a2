"""How long and how deep a file may be that is read as a document; loads nothing, so that a digest is soon known."""

LARGEST_FILE = 200_000  # bytes
DEEPEST = 16  # parts within parts
