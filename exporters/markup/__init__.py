"""Pieces that several outputs share: formula trees, paragraphs and drawings come in, XML, HTML and pictures go out.

The names of the standards stand here as data; where a piece stands in a file is told by the rooms below.
"""
