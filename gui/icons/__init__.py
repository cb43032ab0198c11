"""Pictures of the program itself: its icon."""
