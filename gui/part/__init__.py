"""The place "Part"."""
