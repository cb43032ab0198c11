"""Pictures with known truth, and the scene renderer that made them."""
