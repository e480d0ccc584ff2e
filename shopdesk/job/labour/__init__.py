"""Time at the bench: the clock, what of it is charged, and flat times."""
