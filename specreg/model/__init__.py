"""The typed spec: what a van is, as its workshop writes it down."""
