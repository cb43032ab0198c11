"""From a picture to a measured thread: reading, silhouette, edges, forward model, fit."""
