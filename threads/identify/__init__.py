"""Which thread a measured one is."""
