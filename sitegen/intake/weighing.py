"""What signs are worth: the weights of a logistic regression, kept as data, a file for each kind of fact.

A sign is a name and a number, mostly 1. Signs of grammar have names of their own; signs of wording (`wording.py`) have a colon in
theirs, and those that the fit met too seldom have no weight and count nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

BIAS = "bias"
"""The name under which a file has the odds of what bears no sign."""


@dataclass(frozen=True, slots=True)
class Weights:
    """Logarithms of odds."""

    bias: float
    of: Mapping[str, float]

    def odds(self, signs: Mapping[str, float]) -> float:
        """How much speaks for a thing with these signs."""
        of = self.of
        return self.bias + sum([of[name] * value for name, value in signs.items() if name in of])


@cache
def weights(kind: str) -> Weights:
    """The weights of `places`, `deadlines`, `promises` or `borders`."""
    return read_weights((files("sitegen.intake") / "weights" / f"{kind}.txt").read_text("utf-8"))


def read_weights(text: str) -> Weights:
    """A file's: lines `name<tab>weight`, and comments that begin with `# `."""
    rows = (line.split("\t") for line in text.splitlines() if not line.startswith("# "))
    of = {name: float(weight) for name, weight in rows}
    return Weights(of.pop(BIAS), of)
