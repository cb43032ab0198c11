"""Pins, stage micrometers and grids in pictures."""
