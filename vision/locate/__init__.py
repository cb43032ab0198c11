"""Where in the picture the thread is."""
