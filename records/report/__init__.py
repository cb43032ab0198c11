"""A job on paper: what stands on its sheets, and the same as PDF and as HTML."""
