"""Figures of a result: drawn alike for the screen, for a file and for the printed page."""
