"""The shop's reports in the window."""
