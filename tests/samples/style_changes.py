"""Single random changes to a stylesheet or a page, of the kinds that make text, links, fields or the focus hard to see."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from typing import Final, NamedTuple, TypeAlias


class Site(NamedTuple):
    """What a page is made of, as far as it is changed here."""

    sheet: str
    page: str


Change: TypeAlias = Callable[[Site, random.Random], Site]

PALETTE: Final = ("paper", "tag", "board", "ink", "soft", "link", "lamp", "on-lamp", "edge")
_COLOURED: Final = re.compile(r"(?<=[{;\s])(?:color|background)\s*:\s*(?P<value>[^;}]+)")
_INKED: Final = re.compile(r"(?<=[{;\s])color\s*:\s*(?P<value>[^;}]+)")
_BACKED: Final = re.compile(r"(?<=[{;\s])background\s*:\s*(?P<value>[^;}]+);?")
_NAMED: Final = re.compile(rf"--(?:{'|'.join(PALETTE)})\s*:\s*(?P<value>[^;}}]+)")
_RULE: Final = re.compile(r"(?<=[}])\s*(?P<selectors>[a-z.#:*][^{}@]*)\{(?P<body>[^{}]*)\}")
# Words in the page's own elements; a tag without an attribute of its own is the easiest to write a style on.
_WORDS: Final = re.compile(
    r"<(?P<tag>p|li|h2|h3|span|a|dd|dt|b|time)(?P<attributes>(?: [^<>]*)?)>(?=[A-Za-z])"
)


def colour(chance: random.Random) -> str:
    """A random colour in one of the ways CSS can write it."""
    red, green, blue = (chance.randrange(256) for _ in range(3))
    return chance.choice(
        (
            f"#{red:02x}{green:02x}{blue:02x}",
            f"rgb({red} {green} {blue})",
            f"rgb({red} {green} {blue} / {chance.randrange(30, 100)}%)",
            f"hsl({chance.randrange(360)} {chance.randrange(101)}% {chance.randrange(101)}%)",
            f"oklch({chance.randrange(101)}% {chance.randrange(20) / 100} {chance.randrange(360)})",
            f"hwb({chance.randrange(360)} {chance.randrange(60)}% {chance.randrange(40)}%)",
            f"color-mix(in oklab, #{red:02x}{green:02x}{blue:02x}, var(--paper))",
            f"light-dark(#{red:02x}{green:02x}{blue:02x}, #{blue:02x}{red:02x}{green:02x})",
            chance.choice(("gray", "goldenrod", "tomato", "silver", "teal", "khaki")),
        )
    )


def replaced(text: str, pattern: re.Pattern[str], new: Callable[[], str], chance: random.Random) -> str:
    """One match's value, or the whole match where it has none, replaced."""
    found = chance.choice(list(pattern.finditer(text)))
    start, end = found.span("value") if "value" in pattern.groupindex else found.span()
    return text[:start] + new() + text[end:]


def _in_sheet(pattern: re.Pattern[str]) -> Change:
    def apply(site: Site, chance: random.Random) -> Site:
        return site._replace(sheet=replaced(site.sheet, pattern, lambda: colour(chance), chance))

    return apply


def _without_background(site: Site, chance: random.Random) -> Site:
    """A background that text stands on taken out of a rule, or off a kind of element."""
    if chance.random() < 0.3:
        found = chance.choice(list(_BACKED.finditer(site.sheet)))
        return site._replace(sheet=site.sheet[: found.start()] + site.sheet[found.end() :])
    gone = chance.choice(("background: none", "background-color: transparent", "background: initial"))
    selector = chance.choice((".demo", ".mark", ".opens", ".mark, .opens", "ul.jump a", ".top > *"))
    return site._replace(sheet=f"{site.sheet}\n{selector} {{ {gone} }}\n")


def _in_rule(*declarations: Callable[[random.Random], str]) -> Change:
    """A declaration more at the end of a rule."""

    def apply(site: Site, chance: random.Random) -> Site:
        found = chance.choice(list(_RULE.finditer(site.sheet)))
        declaration = chance.choice(declarations)(chance)
        end = found.end("body")
        return site._replace(sheet=f"{site.sheet[:end]};{declaration};{site.sheet[end:]}")

    return apply


def _at_end(*rules: Callable[[random.Random], str]) -> Change:
    """A rule more at the end of the sheet."""

    def apply(site: Site, chance: random.Random) -> Site:
        return site._replace(sheet=f"{site.sheet}\n{chance.choice(rules)(chance)}\n")

    return apply


def _inline(*declarations: Callable[[random.Random], str]) -> Change:
    """A style attribute on one element that holds words."""

    def apply(site: Site, chance: random.Random) -> Site:
        body = site.page.index("<body")
        found = chance.choice(
            [found for found in _WORDS.finditer(site.page, body) if "style=" not in found[0]]
        )
        end = found.end("attributes")
        style = chance.choice(declarations)(chance)
        return site._replace(page=f'{site.page[:end]} style="{style}"{site.page[end:]}')

    return apply


def _in_one_medium(site: Site, chance: random.Random) -> Site:
    medium = chance.choice(
        (
            "(prefers-color-scheme: dark)",
            "print",
            "(max-width: 40em)",
            "(min-width: 60em)",
            "(prefers-contrast: more)",
            "not print",
        )
    )
    selector = chance.choice((":root", "body", "main", "p", ".of", "a", "h1, h2, h3", "footer"))
    name = chance.choice(("color", f"--{chance.choice(PALETTE)}", "background"))
    return site._replace(
        sheet=f"{site.sheet}\n@media {medium} {{ {selector} {{ {name}: {colour(chance)} }} }}\n"
    )


def _opacity(chance: random.Random) -> str:
    return f"opacity: {chance.choice(('.1', '.25', '40%', '.5', '.6'))}"


LARGE_ONLY: Final = "\nh1, h2, .lead { color: light-dark(#8a7640, #8a7640); font-size: 26px; font-weight: 400 }\n.when, .name { color: light-dark(#8a7640, #8a7640); font-size: 19px; font-weight: 700 }\n@media print { h1, h2, .lead, .when, .name { color: #8a7640 } }\n"
"""Added to the theme's sheet where sizes and weights are changed: colours that pass for large text and for no other."""

TEXT_CHANGES: Final[dict[str, Change]] = {
    "a colour or background of a rule": _in_sheet(_COLOURED),
    "a text's colour in a rule": _in_sheet(_INKED),
    "a background in a rule": _in_sheet(_BACKED),
    "a custom property in one place": _in_sheet(_NAMED),
    "a background removed": _without_background,
    "a colour added to a rule": _in_rule(lambda chance: f"color: {colour(chance)}"),
    "a background added to a rule": _in_rule(
        lambda chance: f"background: {colour(chance)}", lambda chance: f"background-color: {colour(chance)}"
    ),
    "an opacity added to a rule": _in_rule(_opacity),
    "a custom property on a part": _at_end(
        lambda chance: (
            f"{chance.choice(('body', 'main', 'header', 'footer', 'nav', 'section', 'li'))} {{ --{chance.choice(('ink', 'soft', 'link'))}: {colour(chance)} }}"
        )
    ),
    "an important rule": _at_end(
        lambda chance: (
            f"{chance.choice(('p', 'li', 'a', '.of', 'h1', 'main *'))} {{ color: {colour(chance)} !important }}"
        )
    ),
    "a rule by structure": _at_end(
        lambda chance: (
            f"{chance.choice(('li:nth-child(odd)', 'p + p', 'main > :last-child', 'section:has(h2)', ':is(h1, h2):not(.x)', 'li:first-of-type'))}"
            f" {{ {chance.choice(('color', 'background'))}: {colour(chance)} }}"
        )
    ),
    "a rule in a layer": _at_end(
        lambda chance: f"@layer late {{ p, li, h2 {{ color: {colour(chance)} !important }} }}",
        lambda chance: f"@supports (display: grid) {{ main {{ & p, & li {{ color: {colour(chance)} }} }} }}",
    ),
    "a rule in one medium": _in_one_medium,
    "a style on an element": _inline(
        lambda chance: f"color: {colour(chance)}",
        lambda chance: f"background: {colour(chance)}",
        _opacity,
        lambda chance: f"color: color-mix(in srgb, currentcolor {chance.randrange(20, 60)}%, transparent)",
    ),
}
"""Changes that may make text fail, by kind."""

SIZE_CHANGES: Final[dict[str, Change]] = {
    "a size": _at_end(
        lambda chance: (
            f"{chance.choice(('h1', 'h2', '.lead', '.when', '.name'))} {{ font-size: {chance.choice(('17px', '1em', '80%', 'smaller', 'calc(1rem - 1px)', 'clamp(10px, 1vw, 18px)'))} }}"
        )
    ),
    "a weight": _at_end(
        lambda chance: (
            f"{chance.choice(('.when', '.name', '.when, .name'))} {{ font-weight: {chance.choice(('400', 'normal', '600', 'lighter'))} }}"
        )
    ),
    "a size on an element": _inline(lambda chance: f"font-size: {chance.choice(('13px', '50%', '0.9rem'))}"),
}
"""Changes that may make text fail that was large enough for its colour."""

LINK_CHANGES: Final[dict[str, Change]] = {
    "links without a line": _at_end(
        lambda chance: (
            f"{chance.choice(('a', 'main a', 'p a', 'a:link', ':any-link'))} {{ text-decoration: none }}"
        ),
        lambda chance: f"main a {{ text-decoration-line: {chance.choice(('none', 'initial', 'unset'))} }}",
        lambda chance: "main a { text-decoration-color: transparent }",
    ),
}
FOCUS_CHANGES: Final[dict[str, Change]] = {
    "a focus without a mark": _at_end(
        lambda chance: (
            f"{chance.choice((':focus-visible', 'a:focus-visible', '*:focus, *:focus-visible'))} {{ outline: {chance.choice(('none', '0', '0 solid red', 'unset', 'none !important'))} }}"
        ),
        lambda chance: ":focus-visible { outline-style: hidden; outline-width: 0 }",
    ),
    "a focus with a faint mark": _at_end(
        lambda chance: (
            f":focus-visible {{ outline: 3px solid {chance.choice(('var(--paper)', 'var(--line)', 'rgb(128 128 128 / 20%)', 'color-mix(in srgb, var(--paper), gray 20%)'))} }}"
        ),
        lambda chance: ":focus-visible { outline-color: transparent }",
    ),
}
FIELD_CHANGES: Final[dict[str, Change]] = {
    "a field without an edge": _at_end(
        lambda chance: (
            f"input, select {{ border{chance.choice(('-color', ''))}: {chance.choice(('var(--line)', 'var(--board)', 'transparent', 'inherit'))} }}"
        ),
        lambda chance: f"input:not(#x) {{ border: {chance.choice(('0', 'none', '2px solid var(--tag)'))} }}",
    ),
}
