"""A measured thread."""
