"""The front door: parse, call, print; a module for each command, with what it prints."""
