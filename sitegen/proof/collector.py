"""Keeps Python's collector of garbage from looking over and over at what the proof keeps.

A page's tree is made of hundreds of objects that know one another, and is taken apart as soon as the page is judged. The
stylesheets, styles and parts that later pages need stay. By its usual thresholds the collector searches all of that again for
every few pages, and finds nothing: a fifth of the time of pages not met before.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

_THRESHOLDS: Final = (50_000, 20, 20)
"""The youngest objects are searched when so many more were made than let go, which is several hundred pages' worth of what
stays, or one page of a size nobody reads; the older ones in every twentieth search of the younger."""


@contextmanager
def seldom_collecting() -> Iterator[None]:
    """While many pages are proofed: garbage is searched for seldom, and not among what was there before.

    As before afterwards, also where something was raised. Inside another one it changes nothing. Where the collector rests
    altogether it works meanwhile, for pages leave some garbage.
    """
    before = gc.get_threshold()
    if before == _THRESHOLDS:
        yield
        return
    is_first_to_freeze = not gc.get_freeze_count()
    rests = not gc.isenabled()
    if is_first_to_freeze or rests:
        gc.freeze()
    gc.set_threshold(*_THRESHOLDS)
    gc.enable()
    try:
        yield
    finally:
        gc.set_threshold(*before)
        if rests:
            gc.disable()
        if is_first_to_freeze:
            gc.unfreeze()
