"""Where pictures come from: a camera, a video file, a watched folder."""
