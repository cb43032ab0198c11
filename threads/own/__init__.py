"""A workshop's own series, read from its tables."""
