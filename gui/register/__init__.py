"""The place "Register"."""
