"""The pages of a van shown on this computer while its spec is being written."""
