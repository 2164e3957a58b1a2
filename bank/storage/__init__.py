"""Whole files on disk: written beside their target and moved into place, so that a stop leaves old or new."""
