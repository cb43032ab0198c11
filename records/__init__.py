"""Where the parts register will live; nothing is kept yet."""
