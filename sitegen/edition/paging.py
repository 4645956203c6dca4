"""Dividing long lists: into pages of a size a phone can carry."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from itertools import groupby
from typing import TypeVar

from sitegen.edition import addresses
from sitegen.edition.models import Paging, Ref

ROWS = 100
"""Most rows of asks, places or entries on one page."""
STORIES = 200
"""Most stories on one page of an archive; about 60 kB of HTML."""

T = TypeVar("T")
K = TypeVar("K", bound=Hashable)


def chunks(items: Sequence[T], size: int) -> list[tuple[T, ...]]:
    """The items in runs of at most `size`; one empty run when there are none."""
    return [tuple(items[start : start + size]) for start in range(0, len(items), size)] or [()]


def pagings(base: str, count: int) -> list[Paging]:
    """The paging of each of `count` pages of the list at `base`."""
    if count == 1:
        return [Paging()]
    refs = tuple(Ref(str(number), addresses.part(base, number)) for number in range(1, count + 1))
    return [Paging(number, count, refs) for number in range(1, count + 1)]


def regroup(pairs: Iterable[tuple[K, T]]) -> list[tuple[K, tuple[T, ...]]]:
    """Runs of pairs with the same key, gathered: [(a, 1), (a, 2), (b, 3)] is [(a, (1, 2)), (b, (3,))]."""
    return [(key, tuple(item for _, item in run)) for key, run in groupby(pairs, key=lambda pair: pair[0])]
