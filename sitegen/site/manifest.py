"""The manifest of a published site: every file with its size, digest, media type and caching advice.

It is published as `manifest.json`, is written last, and says which files are this program's to replace and
remove. It holds no moment: equal files give an equal manifest.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from operator import attrgetter
from pathlib import Path

import msgspec

from sitegen.site.addresses import why_not_an_address

MANIFEST_NAME = "manifest.json"
FORMAT = 1
"""Raised when a reader of the older format would misread the newer one."""

IMMUTABLE = "immutable"
"""The name carries a digest: these bytes are all it will ever hold (RFC 8246)."""
REVALIDATE = "revalidate"
"""Ask each time whether it changed (RFC 9111, section 5.2.2.4)."""

# IANA media types, https://www.iana.org/assignments/media-types/; the charset parameter where the type's
# registration has one. Kept here, not taken from the machine, whose table differs from host to host.
_MEDIA_TYPES = {
    "atom": "application/atom+xml",
    "avif": "image/avif",
    "css": "text/css; charset=utf-8",
    "csv": "text/csv; charset=utf-8",
    "geojson": "application/geo+json",
    "gif": "image/gif",
    "html": "text/html; charset=utf-8",
    "ico": "image/vnd.microsoft.icon",
    "ics": "text/calendar; charset=utf-8",
    "jpeg": "image/jpeg",
    "jpg": "image/jpeg",
    "js": "text/javascript; charset=utf-8",
    "json": "application/json",
    "jsonld": "application/ld+json",
    "pdf": "application/pdf",
    "png": "image/png",
    "svg": "image/svg+xml",
    "txt": "text/plain; charset=utf-8",
    "vtt": "text/vtt; charset=utf-8",
    "webmanifest": "application/manifest+json",
    "webp": "image/webp",
    "woff2": "font/woff2",
    "xml": "application/xml",
}


class Entry(msgspec.Struct, frozen=True):
    """One published file."""

    address: str
    """The file's path in the site, with forward slashes: `stories/2026/coat-closet/index.html`."""
    size: int
    """Bytes."""
    sha256: str
    """Hexadecimal, lower case."""
    media_type: str
    immutable: bool
    """The name carries a digest, so a host may tell browsers to keep it for good."""


@dataclass(frozen=True, slots=True)
class Manifest:
    generator: str
    """Program and version, such as `sitegen 0.1.0`."""
    address: str
    """Where viewers find the site; ends with a slash."""
    entries: tuple[Entry, ...]
    """By address; the manifest itself is not among them."""


class ManifestError(ValueError):
    """Bytes that are not a manifest of ours; the text says why in plain words."""


def media_type(address: str) -> str:
    """The media type of a file by its suffix; `application/octet-stream` for one we do not publish."""
    return _MEDIA_TYPES.get(address.rpartition("/")[2].rpartition(".")[2].lower(), "application/octet-stream")


def manifest_bytes(manifest: Manifest) -> bytes:
    """The manifest as JSON, one file on a line, sorted by address."""
    # Written by hand but for what may need escaping: an archive has tens of thousands of files.
    types = {name: json.dumps(name) for name in {entry.media_type for entry in manifest.entries}}
    lines = [
        f'{{"address": {_quoted(entry.address)}, "size": {entry.size}, "sha256": "{entry.sha256}", '
        f'"type": {types[entry.media_type]}, "cache": "{IMMUTABLE if entry.immutable else REVALIDATE}"}}'
        for entry in sorted(manifest.entries, key=attrgetter("address"))
    ]
    head = {"format": FORMAT, "generator": manifest.generator, "address": manifest.address}
    opening = json.dumps(head, ensure_ascii=False, indent=1)[:-2]
    files = "[\n" + ",\n".join(f"  {line}" for line in lines) + "\n ]" if lines else "[]"
    return f'{opening},\n "files": {files}\n}}\n'.encode()


def read_manifest(source: bytes) -> Manifest:
    """The manifest some bytes hold; raises ManifestError for anything that we did not write.

    Addresses are checked like those of a new edition, because files are removed by them.
    """
    try:
        held = msgspec.json.decode(source)
        if held["format"] != FORMAT:
            raise ManifestError(f"it is of format {held['format']!r}, and this program knows {FORMAT}")
        entries = tuple(_entry(row) for row in held["files"])
        generator, address = _text(held["generator"]), _text(held["address"])
    except ManifestError:
        raise
    except (msgspec.MsgspecError, ValueError, KeyError, TypeError, RecursionError) as error:
        raise ManifestError("it cannot be read") from error
    _refuse_twice(entry.address for entry in entries)
    return Manifest(generator, address, entries)


def public_address(folder: Path) -> str:
    """Where viewers find the site a folder holds, by its manifest; empty for a folder without one of ours."""
    try:
        return read_manifest((folder / MANIFEST_NAME).read_bytes()).address
    except (OSError, ManifestError):
        return ""


def _quoted(address: str) -> str:
    if address.isascii() and address.isprintable() and '"' not in address and "\\" not in address:
        return f'"{address}"'
    return json.dumps(address, ensure_ascii=False)


def _entry(row: dict[str, object]) -> Entry:
    address, size = _text(row["address"]), row["size"]
    reason = why_not_an_address(address)
    if reason:
        raise ManifestError(f"'{address}' in it is not an address of a site: {reason}")
    if not isinstance(size, int) or isinstance(size, bool) or size < 0:
        raise ManifestError(f"the size of '{address}' in it is not a number of bytes")
    return Entry(address, size, _text(row["sha256"]), _text(row["type"]), row["cache"] == IMMUTABLE)


def _refuse_twice(addresses: Iterable[str]) -> None:
    seen: set[str] = set()
    for address in addresses:
        if address in seen:
            raise ManifestError(f"'{address}' stands in it twice")
        seen.add(address)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise ManifestError(f"{value!r} in it should be text")
    return value
