"""Rule documents read, checked and compiled; their conditions judged; the answers given."""
