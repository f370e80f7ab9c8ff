"""Published tables, shipped as CSV with their sources, and look-ups in SI units."""
