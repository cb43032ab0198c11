"""From the file of a picture, or the frame of a camera, to linear light."""
