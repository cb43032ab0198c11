"""A measured thread against its limits, against another, and against a micrometer."""
