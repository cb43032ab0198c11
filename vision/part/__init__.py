"""The part around the thread: its sections and their sizes."""
