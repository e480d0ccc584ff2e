"""The records: what the shop knows, kept in one file."""
