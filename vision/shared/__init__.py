"""What all stages of vision use."""
