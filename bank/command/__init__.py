"""The front door: a module for each command, which parses, calls and prints; the only room here that knows exporters.

Nothing heavy is imported until a command runs, so that help comes at once. A new command is a module here and its name
in ``main.COMMANDS``.
"""
