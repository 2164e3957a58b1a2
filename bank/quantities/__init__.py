"""Units, dimensions, constants, and values with their significant figures."""
