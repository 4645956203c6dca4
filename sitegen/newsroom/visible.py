"""Text of files, and their names, as it may be written to a terminal: nothing in it moves the cursor or begins a line of its own.

Escapes are JSON's, so that they say in JSON what stood there.
"""

from __future__ import annotations

import re
from typing import Final

# C0 without tab and line feed, DEL and C1 (ISO 6429 calls them control functions), the two separators of Unicode that some take
# for line ends, and the bidirectional embeddings, overrides and isolates of UAX #9, which show a line in another order.
_CONTROL: Final = "\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069"
_IN_LINES: Final = re.compile(f"[{_CONTROL}]")
_IN_A_LINE: Final = re.compile(f"[{_CONTROL}\t\n]")


def visible(text: str) -> str:
    """Lines of text, or JSON, with an escape such as `\\u001b` for every control but tab and line feed."""
    return _IN_LINES.sub(_escape, text)


def one_line(text: str) -> str:
    """The same, of what is to be one line: with an escape for a tab and a line feed, too."""
    return _IN_A_LINE.sub(_escape, text)


def _escape(found: re.Match[str]) -> str:
    return f"\\u{ord(found[0]):04x}"


def as_text(name: str) -> str:
    """A file's name as text: bytes that are not UTF-8, which the system hands on as lone surrogates, stand as `\\udcNN`."""
    return name if name.isascii() else name.encode("utf-8", "backslashreplace").decode()
