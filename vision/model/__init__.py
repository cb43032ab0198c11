"""What the camera sees of a thread: its shadow, blurred, with the light that metal mirrors."""
