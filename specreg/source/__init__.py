"""Text into trees that know where every value stands."""
