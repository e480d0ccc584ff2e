"""What the work costs: money, tax, totals, labour, and how far a bill may go over the estimate."""
