"""What one build is asked to do, where it keeps its things, and whether there is anything to do at all.

Imports nothing heavy: a build with nothing to do ends here.
"""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass
from datetime import datetime
from hashlib import blake2b
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen import __version__
from sitegen.site.errors import MachineError, RefusedError
from sitegen.site.ledger import Facts, Ledger
from sitegen.site.rights import make_private, open_to_all
from sitegen.site.states import UNKNOWN, State, state_of, states_below

if TYPE_CHECKING:
    from sitegen.proof.checks.base import Level

_PACKAGE = Path(__file__).resolve().parent.parent

LIBRARIES = frozenset(
    {
        "babel", "coloraide", "cssselect2", "font-source-serif-pro", "icalendar", "jellyfish", "jinja2", "markdown-it-py",
        "markupsafe", "mdurl", "msgspec", "pillow", "python-dateutil", "python-frontmatter", "pyyaml", "segno", "selectolax",
        "tinycss2", "tzdata", "webencodings",
    }
)  # fmt: skip
"""Packages whose version may change a byte of a page or a verdict on it: what the program needs, and what that needs."""

_COMPILED = "/__pycache__/"
"""In the path of what was made of a theme's files and kept beside them; no page is made of it."""


@dataclass(frozen=True, slots=True)
class Workshop:
    """The folders of one site: what is published, and what is kept beside it."""

    site: Path
    beside: Path
    """Holds the following; `build/` for `build/site`, `DIR.sitegen/` for a folder of one's own."""

    @property
    def is_apart(self) -> bool:
        """The site has a folder of its own choosing, not the station's."""
        return self.site.parent != self.beside

    @property
    def ledger(self) -> Path:
        return self.beside / "ledger"

    @property
    def derived(self) -> Path:
        """Pictures made once."""
        return self.beside / "derived"

    @property
    def for_root(self) -> Path:
        """What counts only at a host's root, of a site in a folder."""
        return self.beside / "for-root"

    @property
    def accepted(self) -> Path:
        """The content of the last build without faults."""
        return self.beside / "accepted"


def workshop_for(root: Path, out: Path | None) -> Workshop:
    """The folders of the site in `out`, or of the one that a station's folder has when none is given. Raises RefusedError for a
    machine's root."""
    if out is None:
        return Workshop(root / "build" / "site", root / "build")
    if out.name in ("", ".."):
        # `.` and the like have no name of their own to put a folder beside.
        out = Path(os.path.abspath(out))
    if not out.name:
        raise RefusedError(f"A site cannot be the whole of '{out}'. Give a folder of its own: --out DIR")
    return Workshop(out, out.with_name(f"{out.name}.sitegen"))


def prepare(workshop: Workshop) -> None:
    """Makes the folder of what is kept beside a site. It holds copy that is held back: beside a folder of one's own choosing,
    where a host may serve it, only its owner looks into it. Raises MachineError where it cannot be made."""
    beside = workshop.beside
    try:
        if workshop.is_apart:
            make_private(beside)
        elif not beside.is_dir():
            beside.mkdir(parents=True)
            open_to_all(os.fspath(beside))  # the way to the site
    except OSError as error:
        raise MachineError(
            f"'{error.filename or beside}' cannot be written: {error.strerror or error}. The site is as it was."
        ) from error


@dataclass(frozen=True, slots=True)
class Order:
    """One build, as asked."""

    root: Path
    workshop: Workshop
    asked: str
    """The moment asked for, as written; empty for none."""
    present: datetime
    """UTC."""
    strict: bool = False
    level: Level = "AA"
    jobs: int = 1
    """Processes, 1 or more."""
    fresh: bool = False
    """The ledger is not to be believed."""


@dataclass(frozen=True, slots=True)
class Sources:
    """Everything an edition is made of, as the disk told it at one moment."""

    states: dict[str, State]
    looked_at: int
    """Nanoseconds of the system's clock, before the first file was looked at."""


def refuse_missing_content(root: Path) -> None:
    """Raises RefusedError when a folder holds no content."""
    if not (root / "content").is_dir():
        raise RefusedError(
            f"There is no 'content' folder in '{root}'. Give the folder that holds it: --root DIR"
        )


def look(root: Path, present: datetime) -> Sources:
    """The states of all that a station's edition can be made of: its content, its themes, and the program's.

    `present` is the system's clock before the call, by which files of this very moment are told from older ones.
    """
    looked_at = int(present.timestamp()) * 1_000_000_000
    shelves = {
        "themes/": root / "themes",
        "program/themes/": _PACKAGE / "themes",
        "checkout/themes/": _PACKAGE.parent / "themes",
    }
    found = states_below(os.fspath(root / "content"), "content/")
    for prefix, folder in shelves.items():
        below = states_below(os.fspath(folder), prefix)
        found |= {name: state for name, state in below.items() if _COMPILED not in name}
    return Sources(found, looked_at)


def ground_of(order: Order) -> str:
    """A digest of all that makes pages out of sources: the program, its libraries, and the way it was asked."""
    parts = [__version__, sys.version, str(order.strict), order.level, os.fspath(order.root.resolve())]
    parts += sorted(_installed())
    modules = states_below(os.fspath(_PACKAGE), "")
    parts += [
        f"{name} {state[0]} {state[1]}" for name, state in sorted(modules.items()) if name.endswith(".py")
    ]
    return blake2b("\0".join(parts).encode("utf-8", "surrogateescape"), digest_size=16).hexdigest()


def _installed() -> set[str]:
    """Names and versions of the libraries, as their folders of metadata are called; asking the libraries would load them."""
    found = set()
    for folder in sys.path:
        try:
            names = os.listdir(folder or ".")
        except OSError:
            continue
        for name in names:
            library, _, version = name.removesuffix(".dist-info").partition("-")
            if name.endswith(".dist-info") and library.lower().replace("_", "-") in LIBRARIES:
                found.add(f"{library.lower()} {version}")
    return found


def nothing_to_do(order: Order, ground: str, sources: Sources, ledger: Ledger) -> Facts | None:
    """What was told of the site the last time, where it is what a build would make now; else None."""
    if order.fresh:
        return None
    facts = ledger.facts()
    if facts is None or facts.ground != ground or facts.sources != sources.states:
        return None
    if UNKNOWN in facts.sources.values():
        return None
    when = moment_of(facts, order.asked, order.present)
    if when > order.present and not facts.fixed and order.workshop == workshop_for(order.root, None):
        return None  # what is refused is refused whether there is work or not
    if not is_true_at(facts, when):
        return None
    site = os.fspath(order.workshop.site)
    if any(state_of(f"{site}/{path}") != written.state for path, written in facts.files.items()):
        return None
    if states_below(os.fspath(order.workshop.for_root), "") != facts.for_root:
        return None
    return None if _is_unfinished(site) else facts


def moment_of(facts: Facts, asked: str, present: datetime) -> datetime:
    """The moment (UTC) that counts for a built site: the asked one, else the one its station fixes, else the present.

    Raises RefusedError where what was asked cannot be read.
    """
    text = asked or facts.fixed
    if not text:
        return present
    from sitegen.newsroom.times import zone_named
    from sitegen.site.moments import read_asked_moment

    return read_asked_moment(text, zone_named(facts.time_zone))


def is_true_at(facts: Facts, moment: datetime) -> bool:
    """Whether a built site says at a moment (UTC) what is so then."""
    text = moment.isoformat()
    return facts.since <= text and not (facts.until and text >= facts.until)


def last_built(workshop: Workshop, ledger: Ledger) -> Facts:
    """What is known of the site that stands in a folder. Raises RefusedError where there is none, or nothing is known of it."""
    from sitegen.site.manifest import MANIFEST_NAME

    facts = ledger.facts()
    if facts is None or state_of(f"{os.fspath(workshop.site)}/{MANIFEST_NAME}") == UNKNOWN:
        raise RefusedError(
            f"No build is known to have made a site in '{workshop.site}'. Build it first, or name its folder: --out DIR"
        )
    return facts


def _is_unfinished(site: str) -> bool:
    """A build of before was broken off, or left something in the site's own folder."""
    from sitegen.site.addresses import OWN_PREFIX

    return any(name.startswith(OWN_PREFIX) for name in os.listdir(site))
