"""Lets `python -m sitegen` do what the `sitegen` command does."""

from sitegen.cli import run

run()
