"""What the desk says at the terminal while it runs: little, and nothing that a file's name could make of it."""

from __future__ import annotations

import sys
import traceback
from contextlib import suppress

from sitegen.newsroom.visible import one_line, visible


def say(line: str) -> None:
    """One line for the producer."""
    _write(one_line(line))


def say_mistake() -> None:
    """The exception that is being handled, for whoever mends the program."""
    _write(visible(traceback.format_exc().rstrip("\n")))


def _write(text: str) -> None:
    # Nobody may be there to read it; that ends no thread.
    with suppress(OSError, ValueError):
        sys.stderr.write(f"{text}\n")
        sys.stderr.flush()
