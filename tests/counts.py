"""How much the tests try, and from which seed they draw what is random: the environment says both, for all of them."""

from __future__ import annotations

import os
import random

LONG = os.environ.get("SITEGEN_LONG") == "1"
"""Everything is tried, where an everyday run draws a sample, and laws on random data far more often."""

SEED = int(os.environ.setdefault("SITEGEN_TEST_SEED", str(random.SystemRandom().randrange(2**32))))
"""In the environment, so that the processes pytest-xdist starts share it."""

_MORE = 20


def tries(count: int) -> int:
    """How often a law is tried: `count` times in an everyday run, twenty times as often in a long one."""
    return count * (_MORE if LONG else 1)
