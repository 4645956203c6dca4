"""Files of a content folder as text: which there are, what each says, and every fault that keeps one from being read.

The only module of the newsroom that opens them. Whatever is wrong with a file becomes a located fault; no file can stop the
reading of the others.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from difflib import get_close_matches
from pathlib import Path
from stat import S_ISDIR, S_ISREG

from sitegen.newsroom.comments import words_in_comments
from sitegen.newsroom.fields import Findings
from sitegen.newsroom.freenames import free_name, is_passed_over, looks_the_same
from sitegen.newsroom.matter import Matter, split_matter
from sitegen.newsroom.nodes import TAB, Mapping, Node, compose
from sitegen.newsroom.records import Spot
from sitegen.newsroom.slugs import is_slug, slug
from sitegen.newsroom.strays import is_text_file
from sitegen.newsroom.unseen import control_in, unseen_in
from sitegen.newsroom.visible import as_text

CONTENT = "content"
MOST_BYTES = 1_000_000
"""Of one text a person writes; the longest story of the demonstration has under 10,000."""
MOST_DATA_BYTES = 20_000_000
"""Of a map or a caption file."""
RENAME = "Rename it with small letters, digits and hyphens."
_SEPARATORS = re.compile("[\x85\u2028\u2029]")
"""What ends a line in YAML 1.1 readers and in no editor."""


class ContentFiles:
    """The files under ROOT/content, named as they are shown: `content/stories/2026/coats.md`."""

    def __init__(self, root: Path, findings: Findings) -> None:
        """`findings` take what is wrong with them."""
        self.root = root
        self.content = root / CONTENT
        self.findings = findings
        self.as_if: dict[str, str] = {}
        """Texts that stand in for files, by path."""
        self._before = len(os.fspath(self.content)) - len(CONTENT)
        """Characters of a path before `content/`."""

    def shown(self, path: Path) -> str:
        return os.fspath(path)[self._before :].replace(os.sep, "/")

    def entries_of(self, name: str) -> list[tuple[str, bool]]:
        """What lies in a folder of content, and whether each is a folder; nothing where it cannot be looked into."""
        try:
            entries = sorted(os.scandir(self.content / name), key=lambda entry: entry.name)
        except OSError:
            return []
        return [(entry.name, entry.is_dir()) for entry in entries if not is_passed_over(entry.name)]

    def below(self, name: str, suffix: str, deep: bool = False) -> Iterator[str]:
        """The files of a folder under content with a suffix, sorted, as they are shown; what else lies there is reported.

        Strings, not paths: of tens of thousands of files hardly one is opened, and taking paths apart would cost more than
        looking for them.
        """
        shown = f"{CONTENT}/{name}"
        folder = self.content / name
        if not folder.is_symlink() or self.leads_inside(folder, Spot(shown)):
            yield from self._walk(os.fspath(folder), shown, suffix, deep)

    def _walk(self, folder: str, above: str, suffix: str, deep: bool) -> Iterator[str]:
        """As `_files`; `above` is the folder as it is shown."""
        try:
            entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
        except FileNotFoundError:
            return
        except OSError as error:
            self.findings.fault(
                Spot(above),
                "unreadable",
                f"This folder cannot be read ({error.strerror or error}).",
                "Check that it is a folder, and its permissions.",
            )
            return
        for entry in entries:
            if is_passed_over(entry.name):
                continue
            if not _is_text(entry.name):
                self.findings.fault(
                    Spot(f"{above}/{as_text(entry.name)}"),
                    "file-name",
                    "The name of this file is not UTF-8 text.",
                    RENAME,
                )
                continue
            shown = f"{above}/{entry.name}"
            if entry.is_symlink() and not self.leads_inside(Path(entry.path), Spot(shown)):
                continue
            if entry.is_dir():
                if entry.name.endswith(suffix):
                    self.findings.fault(
                        Spot(shown),
                        "folder-not-file",
                        f"{entry.name} is a folder; a file is expected here.",
                        f"Rename the folder so that it does not end in {suffix}.",
                    )
                elif deep:
                    yield from self._walk(entry.path, shown, suffix, deep)
                else:
                    self.findings.concern(
                        Spot(shown),
                        "not-read",
                        "This folder is not read.",
                        "Move its files up, or remove it.",
                    )
            elif entry.name.endswith(suffix):
                yield shown
            else:
                good = free_name(entry.name, suffix, names_in(Path(folder)))
                message = f"This file is not read; files here end in {suffix}."
                if not is_text_file(entry.name):
                    instead = f"Save what it says as plain text that ends in {suffix}, or move it: another name makes no text of it."
                else:
                    instead = f"Rename it to {good}, or move it." if good else "Rename it, or move it."
                self.findings.concern(Spot(shown), "not-read", message, instead)

    def leads_inside(self, path: Path, spot: Spot) -> bool:
        """False, with a fault, for a link that leads out of content, nowhere, or to a folder."""
        try:
            target = path.resolve(strict=True)
            inside = target.is_relative_to(self.content.resolve())
        except (OSError, RuntimeError):
            self.findings.fault(
                spot, "broken-link", "This is a link that leads nowhere.", "Put the file itself here."
            )
            return False
        if not inside:
            self.findings.fault(
                spot,
                "link-outside",
                "This is a link out of the content folder; such files are not read.",
                "Put the file itself here.",
            )
            return False
        if target.is_dir():
            self.findings.fault(
                spot,
                "link-outside",
                "This is a link to a folder; such links are not followed.",
                "Put the files themselves here.",
            )
            return False
        return True

    def bytes(self, path: Path, most: int, spot: Spot) -> bytes | None:
        try:
            status = path.stat()
            if not S_ISREG(status.st_mode) and not S_ISDIR(status.st_mode):
                self.findings.fault(
                    spot, "unreadable", "This is a pipe or device, not a file.", "Put the file itself here."
                )
                return None
            if status.st_size > most:
                self.findings.fault(
                    spot,
                    "huge-file",
                    f"The file is larger than {most // 1000:,} kB.",
                    "Check that it is the right file, or split it.",
                )
                return None
            return path.read_bytes()
        except IsADirectoryError:
            self.findings.fault(
                spot,
                "folder-not-file",
                f"{path.name} is a folder; a file is expected here.",
                "Remove or rename the folder.",
            )
        except OSError as error:
            self.findings.fault(
                spot,
                "unreadable",
                f"The file cannot be read ({error.strerror or error}).",
                "Check that it exists, and its permissions.",
            )
        return None

    def text(self, shown: str, most: int = MOST_BYTES, strict: bool = True) -> str | None:
        """A file's text with line feeds, or None with a fault. `strict` texts are those people write by hand."""
        as_if = self.as_if.get(shown)
        data = as_if.encode() if as_if is not None else self.bytes(self.root / shown, most, Spot(shown))
        if data is None:
            return None
        if data.startswith(b"\xef\xbb\xbf"):
            if strict:
                self.findings.fault(
                    Spot(shown),
                    "byte-order-mark",
                    "The file begins with an invisible byte-order mark.",
                    "Save it as UTF-8 without BOM.",
                )
            data = data[3:]
        try:
            text = data.decode("utf-8")
        except UnicodeDecodeError as error:
            before = data[: error.start].decode("utf-8")
            line = before.count("\n") + 1
            column = len(before) - (before.rfind("\n") + 1) + 1
            self.findings.fault(
                Spot(shown, line, column),
                "not-utf-8",
                f"The byte 0x{data[error.start]:02X} here is not UTF-8 text.",
                "Save the file as UTF-8.",
            )
            return None
        if "\r" in text:
            if strict:
                line = text.count("\n", 0, text.index("\r")) + 1
                self.findings.fault(
                    Spot(shown, line, 1),
                    "line-ends",
                    "The lines of this file end in carriage returns (CRLF).",
                    "Save it with Unix line ends (LF).",
                )
            text = text.replace("\r\n", "\n").replace("\r", "\n")
        if "\0" in text:
            line = text.count("\n", 0, text.index("\0")) + 1
            self.findings.fault(
                Spot(shown, line, 1),
                "control-character",
                "The file holds a NUL character: it is no plain text, or text in another encoding.",
                "Save what it says as plain text in UTF-8.",
            )
            return None
        unseen = unseen_in(text) if strict else None
        if unseen is not None:
            spot = Spot(shown, unseen.line, unseen.column)
            self.findings.concern(spot, unseen.check, unseen.message, unseen.instead)
        return text

    def _check_tabs(self, shown: str, text: str, first_line: int = 1) -> None:
        index = text.find("\t")
        if index >= 0:
            line = text.count("\n", 0, index)
            column = index - (text.rfind("\n", 0, index) + 1) + 1
            self.findings.fault(
                Spot(shown, first_line + line, column),
                "tab",
                *TAB,
            )

    def _without_separators(self, shown: str, text: str) -> str:
        """Spaces for the invisible characters that end a line in YAML and in no editor; a fault for the first."""
        found = _SEPARATORS.search(text)
        if found is None:
            return text
        before = text[: found.start()]
        self.findings.fault(
            Spot(shown, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1),
            "control-character",
            f"An invisible line separator stands here (U+{ord(found[0]):04X}).",
            "Delete it, or press Enter there instead.",
        )
        return _SEPARATORS.sub(" ", text)

    def yaml(self, shown: str, what: str) -> Mapping | None:
        text = self.text(shown)
        if text is None:
            return None
        if not text.strip():
            self.findings.fault(
                Spot(shown), "empty-file", "The file is empty.", f"Write {what} with one `key: value` a line."
            )
            return None
        self._check_tabs(shown, text)
        text = self._without_separators(shown, text)
        node, problems = compose(text)
        self.findings.problems(shown, problems)
        if node is not None:
            self._check_comments(shown, node, text)
        if node is not None and not isinstance(node, Mapping):
            self.findings.fault(
                Spot(shown, node.line, node.column),
                "wrong-shape",
                "The file is not a set of keys.",
                f"Write {what} with one `key: value` a line.",
            )
            return None
        if node is None and not problems:
            self.findings.fault(
                Spot(shown),
                "empty-file",
                "The file holds only comments.",
                f"Write {what} with one `key: value` a line.",
            )
        return node

    def matter(self, shown: str) -> Matter:
        text = self.text(shown)
        if text is None:
            return Matter(None)
        end = max(text.find("\n---", text.find("---") + 3), 0)
        self._check_tabs(shown, text[:end])
        matter = split_matter(self._without_separators(shown, text[:end]) + text[end:])
        self.findings.problems(shown, matter.problems)
        control = control_in(matter.body, matter.body_line)
        if control is not None:
            self.findings.problems(shown, [control])
        if matter.node is not None and " #" in text[:end]:
            self._check_comments(shown, matter.node, text)
        return matter

    def _check_comments(self, shown: str, node: Node, text: str) -> None:
        for problem in words_in_comments(node, text):
            self.findings.concern(
                Spot(shown, problem.line, problem.column), problem.check, problem.message, problem.instead
            )

    def named(self, folder: str, name: str, spot: Spot) -> Path | None:
        """A file that another names, inside its folder; a fault with the nearest name otherwise."""
        parts = name.split("/")
        path = self.content / folder / name
        if name.startswith("/") or "\\" in name or any(part in ("", ".", "..") for part in parts):
            self.findings.fault(
                spot,
                "file-name",
                f"'{name}' is not a file's name inside content/{folder}/.",
                "Write the file's name only.",
            )
            return None
        if not is_file(path):
            twin = looks_the_same(path.name, names_in(path.parent))
            if twin:
                good = free_name(twin, path.suffix, names_in(path.parent))
                self.findings.fault(
                    spot,
                    "unknown-file",
                    f"The file content/{folder}/{name} has its accents in other signs than this name, though both look the same.",
                    f"Rename the file to {good} and write: {name[: -len(path.name)]}{good}"
                    if good
                    else "Rename the file in plain letters, and write that name.",
                )
                return None
            known = sorted(
                each.name
                for each in (self.content / folder).glob("*")
                if each.is_file() and _is_text(each.name)
            )
            close = get_close_matches(name, known, n=1, cutoff=0.5)
            self.findings.fault(
                spot,
                "unknown-file",
                f"There is no file content/{folder}/{name}.",
                f"Did you mean '{close[0]}'?" if close else "Put the file there, or remove its name here.",
            )
            return None
        shown = Spot(self.shown(path))
        resolved = path.resolve()
        if not resolved.is_relative_to(self.content.resolve()):
            self.findings.fault(
                shown,
                "link-outside",
                "This is a link out of the content folder; such files are not read.",
                "Put the file itself here.",
            )
            return None
        return path

    def id(self, shown: str, folder: str) -> str | None:
        """A file's path under its folder without suffix, when each part can stand in an address."""
        relative = shown[len(f"{CONTENT}/{folder}/") :].rpartition(".")[0]
        if all(is_slug(part) for part in relative.split("/")):
            return relative
        path = self.root / shown
        *folders, _ = relative.split("/")
        above = [slug(part) for part in folders]
        target = self.content.joinpath(folder, *above)
        # In a folder of another name it may be called what it is, unless that folder is there too and has one.
        beside = names_in(target) | (names_in(path.parent) - ({path.name} if above != folders else set()))
        good = free_name(path.name, path.suffix, beside)
        self.findings.fault(
            Spot(shown),
            "file-name",
            f"The name of {path.name} cannot stand in an address: only small letters, digits and hyphens can.",
            f"Rename it to {'/'.join([*above, good])}"
            if good and all(above)
            else f"Rename it with small letters, digits and hyphens, and {path.suffix} at the end.",
        )
        return None


def is_file(path: Path) -> bool:
    """False also for a name too long for the disk."""
    try:
        return path.is_file()
    except OSError:
        return False


def is_same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


def names_in(folder: Path) -> set[str]:
    """The names of what lies in a folder; of one that cannot be looked into, none."""
    try:
        return {each.name for each in folder.iterdir() if _is_text(each.name)}
    except OSError:
        return set()


def _is_text(name: str) -> bool:
    """False for a file name whose bytes are not UTF-8; the system hands them on as lone surrogates."""
    return as_text(name) == name
