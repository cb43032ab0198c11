"""From edge points to the fitted thread, its quantities and their uncertainty."""
