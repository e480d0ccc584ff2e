"""What the shop asks of its books: each report in a file of its own, all drawn alike."""
