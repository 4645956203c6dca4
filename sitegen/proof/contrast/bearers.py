"""Which rules bear on how text is seen: two styles that differ in others alone have the same sight, backdrop and reading.

A hovered link that gets a thicker line, or an item that gets more room before it, is read as it was. So those who ask how a text
is seen ask its style's bearer: what would be computed if rules that cannot matter to the answer were not there.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from sitegen.proof.contrast.names import names_in
from sitegen.proof.contrast.properties import SIDES, Pending
from sitegen.proof.contrast.style import BODY, Entry, Style
from sitegen.proof.contrast.stylesheets import Block
from sitegen.proof.contrast.values import TAKEN_OVER

_SIZES: Final = names_in("width height max-width max-height")
_CLIPPING: Final = names_in("overflow-x overflow-y")
_INSETS: Final = frozenset(SIDES)
_MARGINS: Final = names_in("margin-left margin-top")
ASKED: Final = (
    names_in(
        "color background-color background-image background-position background-size background-repeat background-clip"
        " background-origin background-attachment background-blend-mode opacity font-size font-weight font-family"
        " -webkit-text-fill-color -webkit-text-stroke-color -webkit-text-stroke-width text-shadow text-indent mix-blend-mode"
        " filter backdrop-filter mask-image display visibility content-visibility position clip clip-path transform translate"
        " animation-name color-scheme forced-color-adjust print-color-adjust"
    )
    | _SIZES
    | _CLIPPING
    | _INSETS
    | _MARGINS
)
"""Every property that sight, backdrop and reading ask for."""

# Values that matter together with another property, or with a value of another kind, or not at all.
_HARMLESS_DISPLAYS: Final = names_in(
    "block inline inline-block flow flow-root flex inline-flex grid inline-grid table inline-table table-row table-cell"
    " table-row-group table-header-group table-footer-group table-column table-column-group table-caption list-item"
)
_CONDITIONAL: Final = _SIZES | _INSETS | _MARGINS | {"display"}


class _Bearing(NamedTuple):
    """What the declarations of one block can do to how text is seen."""

    names: frozenset[str]
    """Everything of interest that it declares."""
    certain: frozenset[str]
    """What of this matters by itself."""
    is_taken_over: bool
    """Whether it takes a value from what is around it that would not be kept there."""


def bearer_of(style: Style) -> Style:
    """The style with the same sight, backdrop and reading, for fewer reasons; often the style itself."""
    found: Style | None = style.kept("bearer")
    if found is None:
        found = style.keep("bearer", _bearer(style))
        found.keep("bearer", found)
    return found


def _bearer(style: Style) -> Style:
    parent = style.parent
    if parent is None or style.kept(BODY):
        return style
    bearings = [_bearing(entry) for entry in style.entries]
    relevant: set[str] = set()
    for bearing in bearings:
        if bearing.is_taken_over:
            return style
        relevant |= bearing.certain
    if not relevant.isdisjoint(_CLIPPING):
        relevant |= _SIZES
        relevant.add("display")
    if "position" in relevant:
        relevant |= _INSETS
    above = bearer_of(parent)
    # All declarations of a property stay or none: of those that go, no one could have mattered.
    kept = tuple(
        [
            entry
            for entry, bearing in zip(style.entries, bearings, strict=True)
            if not bearing.names.isdisjoint(relevant)
        ]
    )
    return style if above is parent and len(kept) == len(style.entries) else above.child(kept)


def _bearing(entry: Entry) -> _Bearing:
    block = entry.block
    found: _Bearing | None = block.bearing
    if found is None:
        found = block.bearing = _of_block(block)
    return found


def _of_block(block: Block) -> _Bearing:
    names: set[str] = set()
    certain: set[str] = set()
    is_taken_over = False
    for declarations in (block.normal, block.important):
        for name, (value, _) in declarations.items():
            if name.startswith("--"):
                names.add(name)
                certain.add(name)
            elif name in ASKED:
                names.add(name)
                if name not in _CONDITIONAL:
                    certain.add(name)
                elif isinstance(value, Pending) or (isinstance(value, str) and value in TAKEN_OVER):
                    is_taken_over = True
                elif (name == "display" and value not in _HARMLESS_DISPLAYS) or (
                    name in _MARGINS and not _is_outward(value)
                ):
                    certain.add(name)
    return _Bearing(frozenset(names), frozenset(certain), is_taken_over)


def _is_outward(value: object) -> bool:
    """Whether a margin certainly moves nothing over what is before it."""
    if not isinstance(value, tuple):
        return value in ("0", "auto")
    return len(value) == 1 and value[0].type in ("number", "dimension", "percentage") and value[0].value >= 0
