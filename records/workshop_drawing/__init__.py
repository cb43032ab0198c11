"""A drawing of a part to make it again: nominal sizes with tolerances, as PDF and as DXF."""
