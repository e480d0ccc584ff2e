"""The ways out that an owner can choose from, worked out anew each time they are asked for."""
