"""The ways out side by side in the window."""
