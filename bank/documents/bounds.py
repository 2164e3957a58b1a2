"""How long a file may be that is read as a document; it loads nothing, so that a file can be known by its digest."""

LARGEST_FILE = 200_000  # bytes
