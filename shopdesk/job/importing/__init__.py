"""Owners and machines from a list that another program wrote: read, matched, tried, brought in."""
