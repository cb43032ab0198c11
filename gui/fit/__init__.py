"""The place "Fit"."""
