"""What the files of a bank declare, kept in the cache: paths and names come in, and only what is needed is opened.

An entry belongs to the digest of a file and of all else that its reading depends on. It tells which file to open and
what a list shows; answers come from the file that is opened, and whatever contradicts its entry is read anew. Where no
cache is, or a file has faults, files are read as ever, with the same result.
"""
