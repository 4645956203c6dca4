"""QR codes for paper: an address as a drawing that stands in the page itself, so that it prints without being fetched."""

from __future__ import annotations

from io import BytesIO

from markupsafe import Markup

QUIET_MODULES = 4
"""White modules around a QR code: ISO/IEC 18004:2015, 6.3.8 (figure from memory)."""

MASK = 3
"""One of the eight patterns that break up large areas. The standard has all eight tried and the evenest taken; a reader is
told which it is and reads any. Trying them takes seven times as long as all the rest, on every story's page."""


def code_drawing(address: str, name: str) -> Markup:
    """A QR code of an absolute address as an SVG element, black on white, one unit to a module, named `name`.

    Level M: a code that has lost 15 % of itself is still read (ISO/IEC 18004:2015, 6.5.1; figure from memory).
    """
    import segno

    code = segno.make_qr(address, error="m", boost_error=False, mask=MASK)
    written = BytesIO()
    code.save(
        written,
        kind="svg",
        border=QUIET_MODULES,
        light="#fff",
        dark="#000",
        xmldecl=False,
        svgns=False,
        omitsize=True,
        nl=False,
        svgclass=None,
        lineclass=None,
        encoding="utf-8",
    )
    drawn = written.getvalue().decode()
    return Markup(drawn.replace("<svg ", '<svg role="img" aria-label="{}" ', 1)).format(name)
