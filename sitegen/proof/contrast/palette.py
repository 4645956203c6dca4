"""Lists every pair of text and background colours in use, as a table and as a sheet of swatches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from sitegen.proof.contrast.engine import ContrastEngine
from sitegen.proof.contrast.exempt import is_language, own_text
from sitegen.proof.contrast.formulas import (
    ENHANCED_LARGE_TEXT,
    ENHANCED_TEXT,
    MINIMUM_LARGE_TEXT,
    MINIMUM_TEXT,
    Colour,
    hexadecimal,
    shown,
)
from sitegen.proof.contrast.judgement import state_words
from sitegen.proof.contrast.scenario import Scenario
from sitegen.proof.document import Document


@dataclass(frozen=True, slots=True)
class PalettePair:
    """A text colour on a background colour, as seen, in one size class and one scheme."""

    ink: Colour
    paper: Colour
    ratio: float
    """1 to 21."""
    is_large: bool
    scheme: str
    """"light", "dark", "print" or "forced"."""
    states: tuple[str, ...]
    """States it occurs in; "" is at rest."""
    uses: int
    """Elements it was found on, at rest or in a state, 1 or more."""
    example: str
    """Words it was found on."""

    @property
    def needed(self) -> float:
        """What 1.4.3 asks for."""
        return MINIMUM_LARGE_TEXT if self.is_large else MINIMUM_TEXT

    @property
    def grade(self) -> str:
        """The highest level it reaches: "AAA", "AA" or "fails"."""
        if self.ratio >= (ENHANCED_LARGE_TEXT if self.is_large else ENHANCED_TEXT):
            return "AAA"
        return "AA" if self.ratio >= self.needed else "fails"


def palette(
    engine: ContrastEngine, pages: Iterable[tuple[str, Document]], scenarios: Sequence[Scenario]
) -> tuple[PalettePair, ...]:
    """Every pair in use on some pages, by scheme, the lowest contrast first.

    Where a text can have more than one contrast, as over a gradient, its lowest and its highest are both listed.
    """
    uses: dict[tuple[str, Colour, Colour, bool], int] = {}
    ratios: dict[tuple[Colour, Colour], float] = {}
    states: dict[tuple[str, Colour, Colour, bool], set[str]] = {}
    examples: dict[tuple[str, Colour, Colour, bool], str] = {}
    for address, document in pages:
        judge = engine.judge_for(address, document, scenarios)
        for element, node in zip(document.elements, judge.theme.nodes_of(document), strict=True):
            if element.namespace != "html" or not is_language(own_text(element)):
                continue
            found: dict[tuple[str, Colour, Colour, bool], set[str]] = {}
            for variant in node.variants:
                for scenario, style in zip(scenarios, variant.styles, strict=True):
                    reading = None if style is None else judge.reading(style)
                    if (
                        reading is None
                        or not reading.is_seen
                        or reading.best is None
                        or reading.worst is None
                    ):
                        continue
                    scheme = _scheme(scenario)
                    for pair in (reading.best, reading.worst):
                        key = scheme, pair.ink, pair.paper, reading.is_large
                        ratios[pair.ink, pair.paper] = pair.ratio
                        found.setdefault(key, set()).add(state_words(variant.kinds))
            for key, words in found.items():
                uses[key] = uses.get(key, 0) + 1
                states.setdefault(key, set()).update(words)
                examples.setdefault(key, own_text(element)[:40])
    pairs = [
        PalettePair(
            ink, paper, ratios[ink, paper], large, scheme, tuple(sorted(states[key])), count, examples[key]
        )
        for key, count in uses.items()
        for scheme, ink, paper, large in (key,)
    ]
    pairs.sort(key=lambda pair: (pair.scheme, pair.ratio, pair.ink, pair.paper, pair.is_large))
    return tuple(pairs)


def _scheme(scenario: Scenario) -> str:
    if scenario.media == "print":
        return "print"
    return "forced" if scenario.forced_colors else scenario.scheme


def as_table(pairs: Sequence[PalettePair]) -> str:
    """The pairs as lines of text with a heading, columns two spaces apart."""
    rows = [("scheme", "text", "background", "ratio", "needed", "level", "uses", "states")]
    rows += [
        (
            pair.scheme,
            hexadecimal(pair.ink),
            hexadecimal(pair.paper),
            shown(pair.ratio),
            f"{pair.needed:g}:1" + (" large" if pair.is_large else ""),
            pair.grade,
            str(pair.uses),
            ", ".join(state or "rest" for state in pair.states),
        )
        for pair in pairs
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    ]
    return "\n".join(lines) + "\n"


_SHEET = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<style>
body {{ margin: 1.5rem; color: #1a1a1a; background: #fff; font: 1rem/1.5 sans-serif }}
table {{ border-collapse: collapse }}
th, td {{ padding: 0.4rem 0.8rem; border: 1px solid #767676; text-align: left }}
.swatch {{ min-width: 14rem }}
.large {{ font-size: 1.5rem }}
</style>
</head>
<body>
<main>
<h1>{title}</h1>
<table>
<thead><tr><th scope="col">Swatch</th><th scope="col">Text</th><th scope="col">Background</th><th scope="col">Ratio</th>
<th scope="col">Level</th><th scope="col">Scheme</th><th scope="col">Uses</th><th scope="col">States</th></tr></thead>
<tbody>
{rows}
</tbody>
</table>
</main>
</body>
</html>
"""


def as_swatches(pairs: Sequence[PalettePair], title: str = "Text and background colours in use") -> str:
    """The pairs as an HTML page that shows each of them."""
    rows = "\n".join(
        f'<tr><td class="swatch{" large" if pair.is_large else ""}"'
        f' style="color: {hexadecimal(pair.ink)}; background: {hexadecimal(pair.paper)}">{escape(pair.example)}</td>'
        f"<td>{hexadecimal(pair.ink)}</td><td>{hexadecimal(pair.paper)}</td><td>{shown(pair.ratio)}</td>"
        f"<td>{pair.grade}</td><td>{pair.scheme}</td><td>{pair.uses}</td>"
        f"<td>{', '.join(state or 'rest' for state in pair.states)}</td></tr>"
        for pair in pairs
    )
    return _SHEET.format(title=escape(title), rows=rows)
