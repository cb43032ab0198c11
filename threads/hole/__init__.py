"""Tapped holes by the screws that go in, stop, or shake in them."""
