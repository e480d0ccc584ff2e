"""Baskets in the window: what to buy where."""
