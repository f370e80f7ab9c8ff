"""What to look at, and in which order, when a thing in the van is dead: derived from the graph."""
