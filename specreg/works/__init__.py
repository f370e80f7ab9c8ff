"""What a van costs, what is to be ordered for it and when, and in which order it is built: pure functions."""
