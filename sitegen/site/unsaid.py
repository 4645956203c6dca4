"""What was changed without a word since it was accepted: the accepted content held against a reading, once or again and again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from threading import Lock
from typing import Protocol, TypeVar

from sitegen.newsroom.contentfiles import CONTENT
from sitegen.newsroom.records import Finding, Newsroom, Reading
from sitegen.proof.silent_edits import silent_edits
from sitegen.site.accepted import Accepted
from sitegen.site.order import Sources
from sitegen.site.states import UNKNOWN, State

_EPISODES = f"{CONTENT}/episodes/"
_TEXTS = (".md", ".yaml")


class Unsaid:
    """The accepted content of one site, read as far as it is asked for, and kept until a build accepts another. Safe to ask from many
    threads."""

    def __init__(self, accepted: Accepted, root: Path) -> None:
        """`root` is the station's folder as it is now."""
        self._accepted = accepted
        self._root = root
        self._lock = Lock()
        self._sign: State | None = None
        self._asked: frozenset[str] = frozenset()
        """Paths of the files that were asked for, whether they are there or not."""
        self._before: Newsroom | None = None
        self._same: dict[str, State] = {}
        """States in which files have the bytes that were accepted, by path."""
        self._same_since: State | None = None

    @property
    def sign(self) -> State | None:
        """Another one with each build that accepts; None while there is nothing to be believed."""
        return self._accepted.sign

    def has(self, path: str) -> bool:
        """A file is among what a build accepted, and no other build is about to take its place."""
        return self._accepted.sign is not None and path in self._accepted.known((path,))

    def findings(
        self, reading: Reading, sources: Sources, as_of: datetime, also: Iterable[str] = ()
    ) -> tuple[Finding, ...]:
        """Concerns about what viewers may go by and was changed without a word since it was accepted.

        `sources` are the states of the files that were read. `also`: paths of files that are other than these say, such as one that
        is being written.
        """
        written = self._accepted.known(also)
        # A folder that was copied or checked out anew has other states, and mostly the same bytes.
        changed = written | self._others(self._accepted.changed(sources) - written, sources)
        now = reading.newsroom
        if now is None or not changed:
            return ()
        # A story may have its air date from its episode, so that is read too.
        airing = {
            episode.origin.spot.path
            for episode in now.episodes
            if any(f"{CONTENT}/stories/{entry.story}.md" in changed for entry in episode.rundown)
        }
        before = self._read(changed | airing)
        if before is None:
            return ()
        gone = changed - sources.states.keys()
        faulty = frozenset(finding.spot.path for finding in reading.faults)
        return silent_edits(before, now, as_of, gone, self._accepted.added(sources), faulty)

    def _others(self, paths: frozenset[str], sources: Sources) -> frozenset[str]:
        """Those of some accepted files that may have other bytes now, or are gone, or cannot be looked at. Pictures and the like are not
        looked into: they are large, and nothing is read of them here."""
        sign = self._accepted.sign
        with self._lock:
            if sign is None or sign != self._same_since:
                self._same, self._same_since = {}, sign
            same = self._same
        found: list[str] = []
        for path in paths:
            state = sources.states.get(path, UNKNOWN)
            if state != UNKNOWN and same.get(path) == state:
                continue
            if not path.endswith(_TEXTS):
                found.append(path)
                continue
            try:
                is_same = (self._root / path).read_bytes() == (self._accepted.folder / path).read_bytes()
            except OSError:
                is_same = False
            if not is_same:
                found.append(path)
            elif state != UNKNOWN:
                same[path] = state
        return frozenset(found)

    def _read(self, wanted: frozenset[str]) -> Newsroom | None:
        """The accepted newsroom, with at least those of some files that were accepted; None when there is nothing to be believed."""
        with self._lock:
            sign = self._accepted.sign
            if sign is None:
                return None
            kept = self._before if sign == self._sign else None
            missing = wanted - self._asked if kept is not None else wanted
            if kept is not None and not missing:
                return kept
            if kept is not None and any(path.startswith(_EPISODES) for path in missing):
                # Records of stories rest on their episodes.
                kept, missing = None, missing | self._asked
            reading = self._accepted.read(only=missing)
            # A build may have begun to copy meanwhile.
            if reading is None or reading.newsroom is None or self._accepted.sign != sign:
                return None
            self._asked = missing if kept is None else self._asked | missing
            self._before = _joined(kept, reading.newsroom)
            self._sign = sign
            return self._before


class _Named(Protocol):
    @property
    def id(self) -> str: ...


_Record = TypeVar("_Record", bound=_Named)


def _joined(one: Newsroom | None, other: Newsroom) -> Newsroom:
    """Records of both, which are of the same files."""
    if one is None:
        return other
    return replace(
        other,
        stories=_either(one.stories, other.stories),
        places=_either(one.places, other.places),
        episodes=_either(one.episodes, other.episodes),
    )


def _either(one: tuple[_Record, ...], other: tuple[_Record, ...]) -> tuple[_Record, ...]:
    found = {record.id: record for record in (*one, *other)}
    return tuple(found[name] for name in sorted(found))
