"""The job, one function for each thing that a person does; the window, the commands and the demo all call these."""
