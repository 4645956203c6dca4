"""What is true at a moment, and until when: the shape of every answer the clock gives."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Generic, NamedTuple, TypeVar

T = TypeVar("T")


class Timed(NamedTuple, Generic[T]):
    """An answer as of a moment."""

    value: T
    true_until: datetime | None
    """The first instant (UTC) at which the answer is another; None when it never changes again."""


class Until:
    """Collects the answers a page or an edition rests on: it is true until the first of them is not."""

    def __init__(self) -> None:
        self.first: datetime | None = None

    def __call__(self, answer: Timed[T]) -> T:
        """The answer's value; its end is remembered."""
        if answer.true_until is not None and (self.first is None or answer.true_until < self.first):
            self.first = answer.true_until
        return answer.value


def next_after(as_of: datetime, instants: Iterable[datetime | None]) -> datetime | None:
    """The earliest of the instants that is still to come."""
    return min((each for each in instants if each is not None and each > as_of), default=None)


def earliest(*instants: datetime | None) -> datetime | None:
    """The earliest of the instants that are known."""
    return min((each for each in instants if each is not None), default=None)


def latest(*instants: datetime | None) -> datetime | None:
    """The latest of the instants that are known."""
    return max((each for each in instants if each is not None), default=None)
