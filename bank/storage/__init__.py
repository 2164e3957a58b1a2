"""Whole files on disk, and nothing else: bytes come in, and the old file or the whole new one is what a reader finds.

A file is written in a locked part folder beside its target, flushed, and moved into its place, so that a stop at any
moment leaves no half file; what killed runs left is cleared away by later ones. Every file of ours goes through
``files``; only the cache, which may lose an entry, writes without flushing.
"""
