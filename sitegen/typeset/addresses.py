"""Links: relative ones inside the site, which works at a host's root, in any folder and from a plain server; absolute
ones in what is read elsewhere."""

from __future__ import annotations

from urllib.parse import quote

_KEPT = "/-._~!$&'()*+,;=:@%"


def href(from_address: str, to_address: str) -> str:
    """The link from one page to another, both as site addresses without a leading slash.

    `href("stories/2026/coats/", "counties/tidewick/#places")` is `../../../counties/tidewick/#places`. A link to
    the page itself is `./`, or the fragment alone.
    """
    path, sign, fragment = to_address.partition("#")
    if path == from_address and sign:
        return sign + fragment
    here = from_address.split("/")[:-1]
    *there, leaf = path.split("/")
    shared = 0
    while shared < min(len(here), len(there)) and here[shared] == there[shared]:
        shared += 1
    steps = [".."] * (len(here) - shared) + there[shared:] + [leaf]
    relative = "/".join(steps)
    # An empty link would mean this very file, and a first segment with a colon would be a scheme.
    if not relative or relative.startswith("/") or ":" in steps[0]:
        relative = "./" + relative.lstrip("/")
    return relative + sign + fragment


def absolute(base: str, address: str) -> str:
    """A site address as an absolute URI (RFC 3986): whatever is not ASCII or is unsafe is percent-encoded."""
    path, sign, fragment = address.partition("#")
    return base + quote(path, safe=_KEPT) + sign + quote(fragment, safe=_KEPT)
