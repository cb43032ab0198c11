"""From pictures of reference gauges to the scale and edge offset of a bench."""
