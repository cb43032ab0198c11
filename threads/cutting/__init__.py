"""What dies and taps cut, learned from measured threads, and cutting to fit."""
