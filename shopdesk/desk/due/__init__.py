"""Upkeep that falls due, at the desk: the list, what goes out, and what comes of it."""
