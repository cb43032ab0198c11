"""The command ``flankwise``: parse, call, print."""
