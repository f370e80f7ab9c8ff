"""What a van asks of its owner over the years: duties by what is fitted, and when each is due."""
