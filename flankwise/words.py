"""What is said on every floor above."""

CAUTION = (
    "Where a thread carries load, pressure or people, do not rely on this: have it checked with gauges by someone "
    "qualified."
)
"""What stands wherever somebody might rely on an answer."""
