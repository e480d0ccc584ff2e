"""Parts, suppliers and orders in the window."""
