"""Which addresses can be files of a site, on every kind of host, and which cannot stand together.

A site may be served from a disk where `A` and `a` are one file, so such a pair is refused everywhere.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from sitegen.edition.addresses import DEVICES
from sitegen.site.errors import AddressError

LONGEST_NAME = 255
"""Bytes of one name; the limit of the common file systems (common practice, no source)."""
# Characters that Windows file systems do not take in names, from memory; control characters apart.
_NOT_IN_NAMES = frozenset('\\:*?"<>|')
OWN_PREFIX = ".sitegen-"
"""Names that begin so are this program's working files inside a site."""
_PLAIN = re.compile(r"(?:[a-z0-9_](?:[a-z0-9._-]*[a-z0-9_-])?(?:/|\Z))+\Z")
"""Addresses of the usual kind, found sound at once; a build may have tens of thousands."""
_DEVICE = re.compile(rf"(?:\A|/)(?:{'|'.join(sorted(DEVICES))})(?:[./]|\Z)")


def why_not_an_address(address: str) -> str:
    """Why a file path cannot be in a site, in a few words; empty when it can."""
    if not address:
        return "it is empty"
    if (
        len(address) <= LONGEST_NAME
        and _PLAIN.match(address)
        and address[-1] != "/"
        and not _DEVICE.search(address)
    ):
        return ""
    if address.startswith("/"):
        return "it begins with a slash"
    for name in address.split("/"):
        if name in ("", ".", ".."):
            return f"'{name}' is not a name in it"
        if any(sign in _NOT_IN_NAMES or unicodedata.category(sign) in ("Cc", "Cs") for sign in name):
            return "it holds a character that file names cannot have everywhere"
        if name.endswith((".", " ")) or name.startswith(" "):
            return "a name in it ends or begins with a dot or space"
        if len(name.encode()) > LONGEST_NAME:
            return f"a name in it is longer than {LONGEST_NAME} bytes"
        if name.partition(".")[0].lower() in DEVICES:
            return f"'{name}' is a device's name on some hosts"
        if name.lower().startswith(OWN_PREFIX):
            return f"names beginning with '{OWN_PREFIX}' are kept for the build"
    return ""


def check_addresses(addresses: Iterable[str]) -> None:
    """Raises AddressError when an address cannot be a file, or two cannot be files of one site."""
    files: dict[str, str] = {}
    folders: dict[str, str] = {}
    for address in addresses:
        reason = why_not_an_address(address)
        if reason:
            raise AddressError(f"'{address}' cannot be a file of the site: {reason}. Rename it.")
        key = _same_on_some_host(address)
        if key in files:
            raise AddressError(
                f"'{files[key]}' and '{address}' are one file on hosts that take no notice of capitals. Rename one."
            )
        files[key] = address
        parent = address
        while "/" in parent:
            parent = parent.rpartition("/")[0]
            key = _same_on_some_host(parent)
            folder = folders.get(key)
            if folder == parent:
                break  # and so are those it lies in
            folders.setdefault(key, parent)
            if folder is not None:
                raise AddressError(
                    f"'{folder}/' and '{parent}/' are one folder on hosts that take no notice of capitals. Rename one."
                )
    for key in sorted(files.keys() & folders.keys()):
        raise AddressError(f"'{files[key]}' would be a file and a folder at once. Rename one.")


def _same_on_some_host(address: str) -> str:
    if address.isascii():
        return address.lower()
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", address).casefold())
