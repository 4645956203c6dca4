"""The command line: parse arguments, call one function, print."""

from __future__ import annotations


def main() -> int:
    return 2
