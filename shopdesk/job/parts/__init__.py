"""The catalogue of parts, what lies in the bins, and orders to suppliers."""
