"""Pieces of XML, HTML and pictures that several outputs share."""
