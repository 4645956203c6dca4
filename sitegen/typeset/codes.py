"""QR codes for paper: an address as a drawing that stands in the page itself, so that it prints without being fetched."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from markupsafe import Markup

QUIET_MODULES = 4
"""White modules around a QR code: ISO/IEC 18004:2015, 6.3.8 (figure from memory)."""

MASK = 3
"""One of the eight patterns that break up large areas. The standard has all eight tried and the evenest taken; a reader is
told which it is and reads any. Trying them takes seven times as long as all the rest, on every story's page."""


_DARK = re.compile(b"\x01+")


def code_drawing(address: str, name: str) -> Markup:
    """A QR code of an absolute address as an SVG element, black on white, one unit to a module, named `name`.

    Level M: a code that has lost 15 % of itself is still read (ISO/IEC 18004:2015, 6.5.1; figure from memory).
    """
    return Markup('<svg role="img" aria-label="{}" {}').format(name, _drawing(address))


@lru_cache(maxsize=256)
def _drawing(address: str) -> Markup:
    """The element from its `viewBox` on. The preview sets the same few pages again and again, and a code is dear."""
    import segno

    matrix = segno.make_qr(address, error="m", boost_error=False, mask=MASK).matrix
    side = len(matrix) + 2 * QUIET_MODULES
    return Markup(
        f'viewBox="0 0 {side} {side}"><path fill="#fff" d="M0 0h{side}v{side}h-{side}z"/>'
        f'<path stroke="#000" d="{_strokes(matrix)}"/></svg>'
    )


def _strokes(matrix: Sequence[bytes | bytearray]) -> str:
    """The dark runs of every row as strokes one unit wide, each begun from where the last ended.

    What the library's own writer says (a test holds it to that), which takes as long as all that comes before.
    """
    strokes: list[str] = []
    x, y = -QUIET_MODULES, -QUIET_MODULES
    for line, row in enumerate(matrix):
        for run in _DARK.finditer(row):
            start, end = run.span()
            # A stroke lies half on either side of its line, so the first goes through the middle of its modules.
            strokes.append(
                f"m{start - x} {line - y}h{end - start}"
                if strokes
                else f"M{start - x} {line - y}.5h{end - start}"
            )
            x, y = end, line
    return "".join(strokes)
