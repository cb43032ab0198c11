"""The commands of ``flankwise record``."""
