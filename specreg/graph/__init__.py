"""The build as one graph over all media, and the questions that only a graph can answer."""
