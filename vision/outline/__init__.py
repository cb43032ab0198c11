"""The outline of what lies on the light pad, to a fraction of a pixel."""
