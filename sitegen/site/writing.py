"""Bringing a folder from one edition of a site to the next, so that viewers never meet a half.

What holds, for a single writer on a working disk:

- All new bytes are staged in temporary files inside the site's folders before anything visible changes. An
  error until then (a full or read-only disk, a missing source) leaves every published file as it was.
- Then, in this order: files that were not there are put in place, changed files are replaced, files of the last
  edition that this one does not have are removed, the manifest is replaced. Each file in one step.
- So at every instant every file is whole, and every page that a viewer can reach from a page that stays
  links only to files that are there. Three exceptions: pages about to be removed, to which no other page
  leads any more, may link to ones already removed; a fragment may for an instant name a part that its page,
  not yet replaced, does not have; and where an address was a file and becomes a folder (or the reverse), the
  old one is removed first, and links to it are broken until the pages that hold them are replaced.
- After an error in the visible part, and after a killed process, what was replaced stays, all of the above
  holds, and the next build, of whatever edition, finishes the work. Power loss is not covered: nothing is
  flushed to the disk.

While the work is under way `.sitegen-unfinished.json` in the site says which files are in it besides those
of the manifest, and which of them no page leads to yet or any longer. These are removed first by the next
build, because their own links may lead nowhere.
"""

from __future__ import annotations

import errno
import json
import os
from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import TypeAlias

from msgspec import Struct

from sitegen.site.addresses import OWN_PREFIX, check_addresses, why_not_an_address
from sitegen.site.errors import MachineError, RefusedError
from sitegen.site.manifest import (
    MANIFEST_NAME,
    Entry,
    Manifest,
    ManifestError,
    manifest_bytes,
    media_type,
    public_address,
    read_manifest,
)
from sitegen.site.rights import is_owners_alone, open_to_all


@dataclass(frozen=True, slots=True)
class Finished:
    """A finished file beside the site, that is moved into it."""

    folder: Path
    name: str
    size: int
    sha256: str
    """Hexadecimal."""

    @property
    def path(self) -> Path:
        """Put together when somebody asks: a path takes several times the memory of all the rest."""
        return self.folder / self.name


class Kept(Struct, frozen=True):
    """A file of the last edition that stays as it is: whoever says so has looked at its state."""

    site: Path
    """The folder of the site it is in."""
    name: str
    """Its path there."""
    size: int
    sha256: str
    """Hexadecimal."""

    @property
    def path(self) -> Path:
        """Where it is now. Put together when somebody asks, for of tens of thousands hardly one is opened."""
        return self.site / self.name


Content: TypeAlias = bytes | Path | Finished | Kept
"""A file's bytes, a file that holds them and stays where it is, a finished one, or one that is in the site."""

UNFINISHED_NAME = f"{OWN_PREFIX}unfinished.json"
_PART_PREFIX = f"{OWN_PREFIX}part-"


@dataclass(frozen=True, slots=True)
class Publication:
    """What publishing an edition did, as file addresses in order."""

    added: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    removed: tuple[str, ...] = ()
    unchanged: int = 0
    """How many files were left untouched."""


class MistakenError(Exception):
    """A file that should have been kept is not one of the site: what was believed of it is wrong."""


class Disk:
    """Every change made to the disk, so that a test can make any one of them fail."""

    def make_folder(self, folder: str) -> None:
        """A new folder that everybody may look into: a site is meant for hosts, whatever umask it is built under."""
        os.mkdir(folder)
        open_to_all(folder)

    def write(self, path: str, body: bytes) -> None:
        """A new file that everybody may read."""
        # O_EXCL: a temporary file is never somebody else's, nor a link that leads elsewhere.
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        with open(descriptor, "wb") as file:
            file.write(body)
        open_to_all(path)

    def open_to_all(self, path: str) -> None:
        """Lets everybody read a file, or look into a folder, that was kept from them."""
        open_to_all(path)

    def replace(self, part: str, path: str) -> None:
        os.replace(part, path)

    def remove(self, path: str) -> None:
        os.unlink(path)

    def remove_folder(self, folder: str) -> None:
        os.rmdir(folder)


# --- where a site may be written -------------------------------------------------------------

_SITE = "site"
_KEPT_FOLDERS = frozenset({"accepted", "derived", "for-root", "ledger", "onair", "preview", "reports"})
"""What the program has in a station's `build/` beside its site."""


def refuse_folder(out: Path, root: Path, others: Iterable[Path] = ()) -> None:
    """Raises RefusedError when `out` may not hold a site; touches nothing.

    A site may not be, hold or lie in the root folder of the station (its content and themes with it) or any of
    `others` (a theme's folder, the program's own). `build/` inside the root is for sites and is excepted, but for
    what builds keep in it. Nor may it lie in another site: what is kept beside it would be published with that one.
    """
    try:
        here, home = out.resolve(), root.resolve()
        build = home / "build"
        in_build = here != build and here.is_relative_to(build)
        kept_apart = [home / "content", home / "themes", home, *(other.resolve() for other in others)]
        for kept in kept_apart:
            if in_build and build.is_relative_to(kept):
                continue
            if here.is_relative_to(kept) or kept.is_relative_to(here):
                relation = "is" if here == kept else "lies in" if here.is_relative_to(kept) else "holds"
                raise RefusedError(
                    f"The folder '{out}' {relation} '{kept}', which a site must not be mixed with. "
                    f"Choose a folder in '{build}' or one apart from it."
                )
        own = build / here.relative_to(build).parts[0] if in_build else here
        for above in here.parents:
            if above == build / _SITE or (above / UNFINISHED_NAME).is_file() or public_address(above):
                raise RefusedError(
                    f"The folder '{out}' lies in the site '{above}': what is kept beside it, unpublished copy too, would be "
                    "published with that site. Choose a folder apart from it."
                )
        if own.name in _KEPT_FOLDERS and in_build:
            raise RefusedError(
                f"The folder '{out}' is or lies in '{own}', where this program keeps other things. Choose another."
            )
        if here.exists() and not here.is_dir():
            raise RefusedError(f"'{out}' is a file. Give a folder.")
        names = os.listdir(here) if here.exists() else []
    except OSError as error:
        raise MachineError(f"The folder '{out}' cannot be read: {_reason(error)}.") from error
    except RuntimeError as error:
        raise RefusedError(f"'{out}' is a link that leads to itself. Give a folder.") from error
    if any(not name.startswith(_PART_PREFIX) for name in names) and not (
        MANIFEST_NAME in names or UNFINISHED_NAME in names
    ):
        raise RefusedError(
            f"The folder '{out}' holds files that this program did not publish: it has no {MANIFEST_NAME}. "
            "Choose an empty folder or move its files away."
        )


# --- publishing ------------------------------------------------------------------------------


def publish(
    out: Path,
    files: Mapping[str, Content],
    *,
    generator: str,
    address: str,
    root: Path,
    immutable: Set[str] = frozenset(),
    others: Iterable[Path] = (),
    disk: Disk | None = None,
) -> Publication:
    """Makes `out` hold exactly `files` and their manifest, besides files that were never this program's.

    `files` maps file paths in the site (`stories/2026/coats/index.html`) to their content; `immutable` are
    those whose name carries a digest. `root` and `others` are folders a site must keep away from, see
    `refuse_folder`. What holds meanwhile and after an error is said at the top of this module.

    Raises AddressError, RefusedError, MistakenError (all before anything is touched) and MachineError.
    """
    check_addresses([*files, MANIFEST_NAME])
    refuse_folder(out, root, others)
    site = _Site(str(out.resolve()), disk or Disk())
    last = site.last_manifest()
    unfinished = site.read_unfinished()

    site.kind(MANIFEST_NAME)  # whether it is shut
    plan = _plan(site, files, last, unfinished, immutable)
    entries = tuple(
        Entry(name, plan.sizes[name], plan.digests[name], media_type(name), name in immutable)
        for name in sorted(files)
    )
    manifest = manifest_bytes(Manifest(generator, address, entries))
    publication = Publication(
        tuple(plan.added),
        tuple(plan.changed),
        tuple(plan.removed),
        len(files) - len(plan.added) - len(plan.changed),
    )
    is_new_manifest = not site.holds(MANIFEST_NAME, len(manifest), sha256(manifest).hexdigest())
    if not (is_new_manifest or plan.touches or unfinished.exists):
        try:
            site.remove_parts(everywhere=False)
        except OSError as error:
            raise MachineError(f"The site is up to date, and a leftover stays: {_reason(error)}.") from error
        site.open_shut([*files, MANIFEST_NAME])
        return publication
    _write(site, files, plan, unfinished, manifest if is_new_manifest else None)
    site.open_shut([*files, MANIFEST_NAME])
    return publication


@dataclass(frozen=True, slots=True)
class _Unfinished:
    """What a build that did not finish left in the site besides the manifest's files."""

    exists: bool = False
    reachable: frozenset[str] = frozenset()
    """Put in place before any page that leads to them."""
    unreachable: frozenset[str] = frozenset()
    """No page leads to them, and their own links may lead nowhere."""


@dataclass(slots=True)
class _Plan:
    """What has to happen, as addresses in order."""

    added: list[str] = field(default_factory=list)
    """Not in the site."""
    changed: list[str] = field(default_factory=list)
    """In the site with other bytes."""
    removed: list[str] = field(default_factory=list)
    """In the site and not in the edition."""
    in_the_way: list[str] = field(default_factory=list)
    """Those of `removed` that stand where a new file's folder must be, or the reverse."""
    hollow: list[str] = field(default_factory=list)
    """Addresses of new files at which a folder without other files stands."""
    stale: list[str] = field(default_factory=list)
    """Unreachable leftovers of an unfinished build."""
    listed: frozenset[str] = frozenset()
    """Files of the site before this build that pages may lead to."""
    sizes: dict[str, int] = field(default_factory=dict)
    digests: dict[str, str] = field(default_factory=dict)

    @property
    def touches(self) -> bool:
        return bool(self.added or self.changed or self.removed or self.stale)


def _plan(
    site: _Site,
    files: Mapping[str, Content],
    last: Manifest | None,
    unfinished: _Unfinished,
    immutable: Set[str],
) -> _Plan:
    plan = _Plan()
    known = frozenset(entry.address for entry in last.entries) if last else frozenset[str]()
    known |= unfinished.reachable
    kinds = {name: site.kind(name) for name in known | unfinished.unreachable | files.keys()}
    there = {name for name, kind in kinds.items() if kind in ("file", "other")}
    plan.stale = sorted(unfinished.unreachable & there)
    plan.listed = (known & there) - unfinished.unreachable
    # Pages before what they show, so that a page about to go is never seen without its style.
    plan.removed = sorted(plan.listed - files.keys(), key=lambda name: (not name.endswith(".html"), name))
    gone = {*plan.removed, *plan.stale}
    folders = {folder for name in files for folder in _folders_of(name)}
    plan.in_the_way = [
        name
        for name in plan.removed
        if name in folders or any(folder in files for folder in _folders_of(name))
    ]
    for folder in sorted(folders - gone - site.folders):
        if site.kind(folder) not in ("", "folder"):
            raise RefusedError(
                f"'{site.path(folder)}' stands where a folder of the site must be. Move it away."
            )
    for name, content in files.items():
        if isinstance(content, Kept):
            if name not in plan.listed or kinds[name] != "file":
                raise MistakenError(name)
            plan.sizes[name], plan.digests[name] = content.size, content.sha256
            continue
        if isinstance(content, Finished):
            plan.sizes[name], plan.digests[name] = content.size, content.sha256
        else:
            body = _body(content)
            plan.sizes[name], plan.digests[name] = len(body), sha256(body).hexdigest()
        if kinds[name] == "folder":
            # The folder of files that are removed now; anything else in it is somebody's.
            if not site.only_holds(name, gone):
                raise RefusedError(
                    f"The folder '{site.path(name)}' stands where a file must be. Move it away."
                )
            plan.hollow.append(name)
            plan.added.append(name)
        elif not kinds[name] or name in unfinished.unreachable:
            plan.added.append(name)
        elif name not in plan.listed:
            raise RefusedError(
                f"'{site.path(name)}' was not published by this program, and the edition has a file of that address. "
                "Move it away."
            )
        elif not site.holds(name, plan.sizes[name], plan.digests[name]):
            plan.changed.append(name)
    plan.added.sort(key=lambda name: (name.endswith(".html"), name))
    # A file that should never change and did was damaged: it is mended before pages are.
    plan.changed.sort(key=lambda name: (name not in immutable, name))
    return plan


def _write(
    site: _Site, files: Mapping[str, Content], plan: _Plan, unfinished: _Unfinished, manifest: bytes | None
) -> None:
    """Carries out a plan; the order of its steps is what this module promises."""
    visible = 0
    conflicts = {*plan.in_the_way}
    removed = [name for name in plan.removed if name not in conflicts]
    try:
        site.make_root()
        site.remove_parts(everywhere=unfinished.exists)
        site.place(site.stage_mark(plan.listed, {*plan.added, *unfinished.unreachable}), UNFINISHED_NAME)
        for name in plan.stale:
            site.remove(name)
        parts: dict[str, str] = {}
        for name in [*plan.added, *plan.changed]:
            folder = name.rpartition("/")[0]
            if conflicts and not conflicts.isdisjoint(_folders_of(name)):
                folder = ""
            else:
                site.make_folders(name)
            parts[name] = _staged(site, folder, name, files[name], plan)
        reachable = plan.listed | set(plan.added)
        mark_added = site.stage_mark(reachable, ()) if plan.changed or removed else ""
        mark_removed = site.stage_mark(reachable - set(removed), removed) if removed else ""
        manifest_part = site.stage("", manifest) if manifest is not None else ""

        for name in plan.in_the_way:
            visible += 1
            site.remove(name)
        site.remove_empty_folders(plan.in_the_way)
        for name in plan.hollow:
            visible += 1
            site.remove_hollow(name)
        for name in plan.added:
            site.make_folders(name)
            site.place(parts[name], name)
        if mark_added:
            # From here on pages may lead to what was added: all that it links to is there.
            site.place(mark_added, UNFINISHED_NAME)
        for name in plan.changed:
            visible += 1
            site.place(parts[name], name)
        if mark_removed:
            # From here on no page leads to what is removed: every page is of this edition.
            site.place(mark_removed, UNFINISHED_NAME)
        for name in removed:
            visible += 1
            site.remove(name)
        site.remove_empty_folders([*removed, *plan.stale])
        if manifest_part:
            site.place(manifest_part, MANIFEST_NAME)
            visible += 1
        site.remove(UNFINISHED_NAME)
    except BaseException as error:
        site.discard_parts()
        if not visible:
            _take_back(site, plan, unfinished)
        if not isinstance(error, (OSError, MachineError)):
            raise
        why = _reason(error) if isinstance(error, OSError) else str(error).rstrip(".")
        where = f" ({error.filename})" if isinstance(error, OSError) and error.filename else ""
        stands = (
            "The site is as it was."
            if not visible
            else "The site is partly brought up to date: every file is whole and every link good. "
            "The next build finishes the work."
        )
        raise MachineError(f"The site could not be written: {why}{where}. {stands}") from error


def _take_back(site: _Site, plan: _Plan, unfinished: _Unfinished) -> None:
    """Removes what was added before anything visible changed, as far as the disk still allows.

    What cannot be removed stays marked as unreachable, and the next build removes it.
    """
    try:
        for name in plan.added:
            if name not in plan.listed:
                site.remove(name)
        if site.has_parts:
            return
        if unfinished.exists:
            site.place(site.stage_mark(unfinished.reachable, unfinished.unreachable), UNFINISHED_NAME)
        else:
            site.remove(UNFINISHED_NAME)
        site.remove_made_folders()
    except OSError:
        site.discard_parts()


def _staged(site: _Site, folder: str, name: str, content: Content, plan: _Plan) -> str:
    """Stages a file's content in a folder of the site; gives the temporary file's path."""
    if isinstance(content, Finished):
        try:
            return site.take(folder, str(content.path))
        except OSError as error:
            # The spool may lie on another disk than the site.
            if error.errno != errno.EXDEV:
                raise
    body = _body(content)
    if len(body) != plan.sizes[name] or sha256(body).hexdigest() != plan.digests[name]:
        raise MachineError(f"The source of '{name}' changed while the site was being written.")
    return site.stage(folder, body)


def _body(content: Content) -> bytes:
    if isinstance(content, bytes):
        return content
    path = content if isinstance(content, Path) else content.path
    try:
        return path.read_bytes()
    except OSError as error:
        raise MachineError(
            f"The finished file '{path}' cannot be read: {_reason(error)}. The site is as it was."
        ) from error


def _folders_of(name: str) -> list[str]:
    """The folders a file lies in, inmost first: `a/b`, `a` for `a/b/c.html`."""
    parts = name.split("/")[:-1]
    return ["/".join(parts[:count]) for count in range(len(parts), 0, -1)]


def _reason(error: OSError) -> str:
    """What went wrong, in plain words."""
    words = {
        errno.ENOSPC: "the disk is full",
        errno.EDQUOT: "the disk space allotted to you is used up",
        errno.EROFS: "the disk is read-only",
        errno.EACCES: "the permission is missing",
        errno.EPERM: "the permission is missing",
        errno.ENOENT: "a file or folder vanished meanwhile",
        errno.ENOTDIR: "a folder was replaced by a file meanwhile",
        errno.EISDIR: "a file was replaced by a folder meanwhile",
        errno.EEXIST: "somebody else put a file there meanwhile",
        errno.ENAMETOOLONG: "a name is too long for this disk",
        errno.EIO: "the disk failed",
        errno.EMFILE: "too many files are open",
    }
    return words.get(error.errno or 0, error.strerror or str(error) or "unknown error")


class _Site:
    """The folder of a site: what is in it, and each step by which it changes."""

    def __init__(self, root: str, disk: Disk) -> None:
        self._root = root
        self._disk = disk
        self._count = 0
        self._real_folders: set[str] = {""}
        self._parts: set[str] = set()
        self._made: list[str] = []
        self.shut: set[str] = set()
        """Files and folders found that none but their owner may read."""

    def path(self, name: str) -> str:
        return f"{self._root}/{name}" if name else self._root

    # what is there

    @property
    def folders(self) -> Set[str]:
        """The folders of it that were found, or made."""
        return self._real_folders

    def kind(self, name: str) -> str:
        """`file`, `folder`, `other` (a link, a device) or empty for nothing; refuses a way over links."""
        folder = name.rpartition("/")[0]
        if folder and folder not in self._real_folders:
            above = self.kind(folder)
            if above == "other":
                raise RefusedError(f"'{self.path(folder)}' is not a folder of this site. Move it away.")
            if above != "folder":
                return ""
            self._real_folders.add(folder)
        try:
            mode = os.lstat(self.path(name)).st_mode
        except (FileNotFoundError, NotADirectoryError):
            return ""
        except OSError as error:
            raise MachineError(f"'{self.path(name)}' cannot be read: {_reason(error)}.") from error
        if is_owners_alone(mode):
            self.shut.add(name)
        return "file" if S_ISREG(mode) else "folder" if S_ISDIR(mode) else "other"

    def holds(self, name: str, size: int, digest: str) -> bool:
        """True when the file has exactly the bytes of this size and SHA-256."""
        path = self.path(name)
        try:
            status = os.lstat(path)
            if not S_ISREG(status.st_mode) or status.st_size != size:
                return False
            with open(path, "rb") as file:
                return sha256(file.read()).hexdigest() == digest
        except FileNotFoundError:
            return False
        except OSError:
            # Unreadable by us: replacing it is what mends it.
            return False

    def only_holds(self, folder: str, names: Set[str]) -> bool:
        """True when every file under a folder is one of `names`."""
        for parent, folders, files in os.walk(self.path(folder)):
            for file in [*files, *(name for name in folders if os.path.islink(os.path.join(parent, name)))]:
                if file.startswith(_PART_PREFIX):
                    continue
                if os.path.relpath(os.path.join(parent, file), self._root).replace(os.sep, "/") not in names:
                    return False
        return True

    def last_manifest(self) -> Manifest | None:
        source = self._read_own(MANIFEST_NAME)
        if source is None:
            return None
        try:
            return read_manifest(source)
        except ManifestError as error:
            raise RefusedError(
                f"'{self.path(MANIFEST_NAME)}' is not the manifest of a site of ours: {error}. "
                "Choose another folder, or move the files of this one away."
            ) from error

    def read_unfinished(self) -> _Unfinished:
        source = self._read_own(UNFINISHED_NAME)
        if source is None:
            return _Unfinished()
        try:
            held = json.loads(source)
            reachable, unreachable = frozenset(held["reachable"]), frozenset(held["unreachable"])
            if any(why_not_an_address(name) for name in reachable | unreachable):
                raise ValueError("an address that is not in a site")
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
            raise RefusedError(
                f"'{self.path(UNFINISHED_NAME)}' is damaged, so this program cannot tell which files are its own. "
                "Choose another folder, or move the files of this one away."
            ) from error
        return _Unfinished(True, reachable, unreachable)

    def _read_own(self, name: str) -> bytes | None:
        try:
            with open(self.path(name), "rb") as file:
                return file.read()
        except FileNotFoundError:
            return None
        except OSError as error:
            raise MachineError(f"'{self.path(name)}' cannot be read: {_reason(error)}.") from error

    # steps

    def make_root(self) -> None:
        """Makes the site's folder and those it lies in."""
        missing = []
        folder = self._root
        while not os.path.isdir(folder):
            missing.append(folder)
            folder = os.path.dirname(folder)
        for folder in reversed(missing):
            self._make_folder(folder)

    def make_folders(self, name: str) -> None:
        """Makes the folders a file lies in."""
        for folder in reversed(_folders_of(name)):
            if folder not in self._real_folders:
                if not os.path.isdir(self.path(folder)):
                    self._make_folder(self.path(folder))
                self._real_folders.add(folder)

    def _make_folder(self, path: str) -> None:
        self._disk.make_folder(path)
        self._made.append(path)

    def remove_made_folders(self) -> None:
        """Removes the folders that were made, where nothing is in them."""
        for folder in reversed(self._made):
            try:
                self._disk.remove_folder(folder)
            except OSError:
                continue

    def stage(self, folder: str, body: bytes) -> str:
        """Writes bytes to a temporary file in a folder of the site; gives its path."""
        self._count += 1
        part = self.path(
            f"{folder}/{_PART_PREFIX}{self._count}" if folder else f"{_PART_PREFIX}{self._count}"
        )
        self._parts.add(part)
        self._disk.write(part, body)
        return part

    def open_shut(self, names: Iterable[str]) -> None:
        """Opens the files of these names, and the folders they lie in, that were found shut."""
        if self.shut:
            ours = {each for name in names for each in (name, *_folders_of(name))}
            for name in sorted(self.shut & ours):
                if self.kind(name) in ("file", "folder"):
                    self._disk.open_to_all(self.path(name))

    def take(self, folder: str, finished: str) -> str:
        """Moves a finished file to a temporary one in a folder of the site; gives its path."""
        self._count += 1
        part = self.path(
            f"{folder}/{_PART_PREFIX}{self._count}" if folder else f"{_PART_PREFIX}{self._count}"
        )
        self._disk.replace(finished, part)
        self._parts.add(part)
        self._disk.open_to_all(part)
        return part

    def stage_mark(self, reachable: Iterable[str], unreachable: Iterable[str]) -> str:
        """Stages the word on which files are in the site besides the manifest's; gives its path."""
        held = {"reachable": sorted(reachable), "unreachable": sorted(unreachable)}
        return self.stage("", json.dumps(held, ensure_ascii=False).encode())

    def place(self, part: str, name: str) -> None:
        """Puts a staged file in its place in one step."""
        self._disk.replace(part, self.path(name))
        self._parts.remove(part)

    def remove(self, name: str) -> None:
        try:
            self._disk.remove(self.path(name))
        except (FileNotFoundError, NotADirectoryError):
            return

    @property
    def has_parts(self) -> bool:
        return bool(self._parts)

    def discard_parts(self) -> None:
        """Removes temporary files, as far as the disk still allows."""
        for part in sorted(self._parts):
            try:
                self._disk.remove(part)
            except FileNotFoundError:
                pass
            except OSError:
                continue
            self._parts.remove(part)

    def remove_hollow(self, name: str) -> None:
        """Removes a folder that holds folders at most."""
        for parent, _, _ in os.walk(self.path(name), topdown=False):
            self._disk.remove_folder(parent)
        self._real_folders = {
            folder for folder in self._real_folders if not f"{folder}/".startswith(f"{name}/")
        }

    def remove_empty_folders(self, names: Iterable[str]) -> None:
        """Removes the folders that removed files lay in, where nothing else is in them."""
        left = {folder for name in names for folder in _folders_of(name)}
        for folder in sorted(left, key=lambda folder: folder.count("/"), reverse=True):
            try:
                self._disk.remove_folder(self.path(folder))
            except OSError as error:
                # POSIX allows either of the first two for a folder that is not empty.
                if error.errno not in (errno.ENOTEMPTY, errno.EEXIST, errno.ENOENT, errno.ENOTDIR):
                    raise
            else:
                self._real_folders.discard(folder)

    def remove_parts(self, everywhere: bool) -> None:
        """Removes temporary files that a killed build left: in the site's folder, or in every folder of it."""
        for parent, folders, files in os.walk(self._root):
            for name in files:
                if name.startswith(_PART_PREFIX):
                    self._disk.remove(os.path.join(parent, name))
            if not everywhere:
                folders.clear()
