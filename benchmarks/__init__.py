"""Speed and accuracy, each side by side with a textbook pipeline, in one run."""
