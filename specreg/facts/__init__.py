"""What follows from a build: figures and statements, computed once and only when asked for."""
