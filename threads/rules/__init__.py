"""The forms of threads, and the rules by which the standards set limits."""
