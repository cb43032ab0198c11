"""Where the desktop program will live; the guard that keeps Qt and OpenCV apart is in vision/opencv.py."""
