"""What to buy where for the tickets that wait: the cheapest, the soonest, the cheapest by a day."""
