"""The job, one function for each thing that a person does; window, commands and demo call these."""
