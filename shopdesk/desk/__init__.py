"""The window: it shows what the job hands out and asks for what the job needs. It decides nothing."""
