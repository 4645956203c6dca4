"""Work in several processes: which are forked where the system can, so that they know all that this one knows.

Each ends with its parent and holds no lock of its.
"""

from __future__ import annotations

import multiprocessing
import os
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TypeVar, cast

from sitegen.site.errors import MachineError

T = TypeVar("T")
R = TypeVar("R")


def can_fork() -> bool:
    """Whether processes begin with all that this one has in memory."""
    return "fork" in multiprocessing.get_all_start_methods()


@dataclass(frozen=True, slots=True)
class Spread:
    """How work is spread."""

    jobs: int
    """Processes, 1 or more."""
    lock: int | None
    """An open file that is this process's alone."""

    def __call__(self, work: Callable[[int], R], count: int) -> Iterator[R]:
        """work(0), work(1) and so on, in this order. What the work rests on is not sent, so it is done in this process where none
        can be forked; what it gives must be fit to be sent. Raises MachineError when a process is killed."""
        if self.jobs == 1 or count < 2 or not can_fork():
            yield from map(work, range(count))
            return
        try:
            with processes(min(self.jobs, count), self.lock, _begin_work, (work,)) as pool:
                for made in pool.map(_do, range(count)):
                    yield cast(R, made)
        except BrokenProcessPool as error:
            raise MachineError(
                "A process that read the content was killed. The site is as it was."
            ) from error


def in_processes(work: Callable[[T], R], tasks: Sequence[T], jobs: int, lock: int | None) -> Iterator[R]:
    """The work done on each task, in order, in as many processes as pay. Both must be fit to be sent to another process."""
    if jobs == 1 or len(tasks) < 2:
        yield from map(work, tasks)
        return
    try:
        with processes(min(jobs, len(tasks)), lock, begin, ()) as pool:
            yield from pool.map(work, tasks)
    except BrokenProcessPool as error:
        raise MachineError("A process that made pictures was killed. The site is as it was.") from error


@contextmanager
def processes(
    count: int, lock: int | None, begin: Callable[..., None], given: tuple[object, ...]
) -> Iterator[ProcessPoolExecutor]:
    """A pool of processes, each of which begins with `begin(lock, *given)`."""
    # Forked where that can be done: then what is given need not be sent. No thread of ours runs yet at that moment.
    way = "fork" if can_fork() else multiprocessing.get_all_start_methods()[0]
    theirs = lock if way == "fork" else None
    pool = ProcessPoolExecutor(count, multiprocessing.get_context(way), begin, (theirs, *given))
    try:
        yield pool
    finally:
        pool.shutdown(cancel_futures=True)


def begin(lock: int | None) -> None:
    """In each process, first."""
    if lock is not None:
        os.close(lock)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


_work: Callable[[int], object] = int


def _begin_work(lock: int | None, work: Callable[[int], object]) -> None:
    global _work
    begin(lock)
    _work = work


def _do(number: int) -> object:
    return _work(number)
