"""Two owners, or two machines, that turn out to be one: made one, and taken apart again."""
