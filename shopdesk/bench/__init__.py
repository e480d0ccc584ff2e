"""What a mechanic thinks at the bench: readings judged, causes weighed, the next step found."""
