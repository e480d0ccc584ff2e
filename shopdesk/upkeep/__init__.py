"""What a machine needs besides repair, and when it falls due from the way its owner uses it."""
