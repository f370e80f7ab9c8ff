"""`python -m specreg` is `specreg`."""

from specreg.cli import main

main()
