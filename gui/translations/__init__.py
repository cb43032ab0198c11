"""The words of the window in other languages."""
