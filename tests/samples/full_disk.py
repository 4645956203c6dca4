"""A disk that takes no more than so many bytes of a file, by the system's own limit on the size of files."""

from __future__ import annotations

import resource
import signal
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def no_file_above(most_bytes: int) -> Iterator[None]:
    """Within, this process can write files of so many bytes; what goes beyond is refused in the middle of a write."""
    before, handler = resource.getrlimit(resource.RLIMIT_FSIZE), signal.getsignal(signal.SIGXFSZ)
    # Ignored, the signal leaves the write to fail as a full disk makes it fail.
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)
