"""Several measurements of one part, and several parts in one picture."""
