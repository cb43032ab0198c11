"""What all floors use: quantities and how they are written, refusals, files."""
