"""Lets ``python -m contactfe`` run the command line."""

from contactfe.cli import main

main()
