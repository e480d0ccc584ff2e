"""The commands, one file each: what is asked on the command line, and what is said to it."""

FAILED = 1
"""What a command returns that did not do its work."""
