"""The static site: what goes on which page for which reader."""
