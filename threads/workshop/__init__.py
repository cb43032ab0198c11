"""What a workshop does with a thread: play in a hole, drills, taps and dies."""
