"""The place "Bench"."""
