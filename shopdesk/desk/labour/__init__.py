"""The clock and flat times in the window."""
