"""Many builds: which of them has something, whom a recall reaches, what a change does to each."""
