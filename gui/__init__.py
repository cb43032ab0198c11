"""The desktop program. It shows and calls; what is computed is computed downstairs, in worker threads."""
