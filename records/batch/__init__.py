"""Measuring every picture of a folder: the work on one of them, the processes that do it, the file of results."""
