"""The measured thread of one picture, and what is to be doubted in it."""
