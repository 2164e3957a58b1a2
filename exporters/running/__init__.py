"""From the names of questions to proved packs and forms on disk: the bank and a delivery come in, files go out.

Every step that others take (adapt, write, prove, move into place) is called here in its order; nothing is decided here.
"""
