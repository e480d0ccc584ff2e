"""The window: shows what the job hands out, asks for what the job needs, decides nothing."""
