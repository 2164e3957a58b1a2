"""The frozen problem."""
