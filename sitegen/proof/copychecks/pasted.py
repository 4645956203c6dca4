"""What was pasted or left in a text and is published as it stands: tags, marks that mark nothing, headings and links that are none, blanks.

Narrow on purpose: a sign that may be meant, such as a hashtag or initials, is left alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from sitegen.newsroom.body import parse
from sitegen.newsroom.records import Finding
from sitegen.newsroom.times import local_day
from sitegen.proof.copychecks.base import Desk, concern
from sitegen.proof.copychecks.texts import Text, station_page_texts

# Elements of HTML that editors and mail programs leave in pasted text, and the prefixes of office programs.
_TAG = re.compile(
    r"</?(?:(?:o|w|v|m|st1):[a-z]\w*|p|br|span|div|b|i|u|em|strong|a|font|ul|ol|li|h[1-6]|table|tbody|thead|tr|td|th|img|hr"
    r"|blockquote|center|sup|sub|small|iframe|script|style|figure|section|article|html|body|head|meta|title)"
    r"(?:\s+[a-z][\w:-]*(?:\s*=\s*(?:\"[^\"<>]*\"|'[^'<>]*'|[^\s\"'<>=]+))?)*\s*/?>|<!--",
    re.IGNORECASE,
)
_STARS = re.compile(r"(?<!\*)\*\*(?!\*)")
_STRONG = re.compile(r"(?<![\w*\\])\*\*(?=\w)[^*\\`<>\[\]\n]*(?<=\w)\*\*(?!\*)")
"""Stars that mark for certain, as nearly all do: to find out of the others, the text is parsed."""
_NO_HEADING = re.compile(r"(?:\A|\n[ \t]*\n)(?P<signs>#{1,6})(?P<words>[^\W\d_][^\n#]*)(?=\n|\Z)")
_PARAGRAPH_END = re.compile(r"\n[ \t]*(?:\n|\Z)|\Z")
_TO_COME = re.compile(
    # Not beside a word with a capital, where the letters may be somebody's: `Mayor TK`, `TK Jones`.
    r"(?<![\w.&-])TK(?:TK|[ -]TK)*(?![\w&-]|\.\w)"
    r"|(?:\A|(?<=\n\n)|#[ \t]*)fill in(?:[ \t]*[:…]|[ \t]*$)"
    r"|[\[(]fill in[\])]",
    re.MULTILINE,
)
_NO_LINK = re.compile(
    r"\[(?P<words>[^\[\]\n]{1,200})\](?P<gap>[ \t]?)\((?P<to>(?:https?:|www\.|mailto:|tel:)[^()\n]{1,300})\)",
    re.IGNORECASE,
)
_LINK = re.compile(r"(?<!\\)\[[^\[\]\n\\`<>]+\]\([^\s()<>\\]+\)")
"""What is a link for certain, or part of an example in code."""
_NO_NOTE = re.compile(r"\[\^[\w-]{1,20}\]")
_CAPITAL_BEFORE = re.compile(r"[A-Z][\w.’']*[ ,]+\Z")
_CAPITAL_BEHIND = re.compile(r" [A-Z]")


def left_in_text(desk: Desk) -> Iterator[Finding]:
    """Signs and blanks that no reader was to see; one concern for each kind in a text."""
    yield from desk.found_in_texts("left-in-text", _left)
    station = desk.newsroom.station
    for page in desk.newsroom.pages:
        for text in station_page_texts(page, local_day(desk.as_of, desk.zone), station.language):
            yield from _left(text)


def _left(text: Text) -> Iterator[Finding]:
    words = text.text
    if text.body:
        if "<" in words:
            yield from _tags(text)
        if words.count("**") > 1 and "\\*" not in words:
            yield from _stars(text)
        if "#" in words:
            yield from _headings(text)
        if "](" in words or "] (" in words:
            yield from _links(text)
        if "[^" in words:
            yield from _notes(text)
    if "TK" in words or "fill in" in words:
        yield from _blanks(text)


def _tags(text: Text) -> Iterator[Finding]:
    found = list(_TAG.finditer(text.text))
    shown = _shown(text.text) if found else ""
    for match in found:
        if match.group() in shown:  # not where it stands as an example, in code
            yield concern(
                text.at(match.start()),
                "tag-in-text",
                f"{text.name} holds the tag {match.group()[:40]}, which readers see as it stands here.",
                "Take out the tags; a blank line begins a paragraph, and **two stars** make words strong.",
            )
            return


def _stars(text: Text) -> Iterator[Finding]:
    if "**" not in _STRONG.sub("", text.text):
        return
    for token in parse(text.text):
        if token.type != "inline" or token.map is None or token.content.count("**") < 2:
            continue
        for child in token.children or ():
            left = _STARS.search(child.content) if child.type == "text" else None
            if left is None:
                continue
            start = _start_of_line(text.text, token.map[0])
            around = child.content[max(left.start() - 8, 0) : left.end() + 8]
            at = text.text.find(around, start)
            at = at + min(left.start(), 8) if at >= 0 else start
            yield concern(
                text.at(at),
                "marks-left-standing",
                f"The two stars here mark nothing, and readers see them: '{child.content[left.start() : left.end() + 30].strip()}'.",
                "Write them close to the words that are to be strong, without a space between: **50 coats**",
            )
            return


def _links(text: Text) -> Iterator[Finding]:
    doubtful = [match for match in _NO_LINK.finditer(text.text) if not _LINK.match(text.text, match.start())]
    shown = _shown(text.text) if doubtful else ""
    for match in doubtful:
        if match.group() not in shown:
            continue  # a link, or an example in code
        to = match["to"].strip()
        address = re.sub(r"\s+", "" if to.lower().startswith(("mailto:", "tel:")) else "%20", to)
        yield concern(
            text.at(match.start()),
            "link-left-standing",
            f"This is no link, and readers see its signs: '{match.group()[:60]}'.",
            f"Write without a space, if the address is right: [{match['words']}]({address})",
        )
        return


def _notes(text: Text) -> Iterator[Finding]:
    for match in _NO_NOTE.finditer(text.text):
        if match.group() in _shown(text.text):
            yield concern(
                text.at(match.start()),
                "note-left-standing",
                f"Footnotes are not made, and readers see the sign of one: '{match.group()}'.",
                "Say it in the sentence, or in one of its own.",
            )
            return


def _headings(text: Text) -> Iterator[Finding]:
    for match in _NO_HEADING.finditer(text.text):
        signs, words = match["signs"], match["words"].strip()
        first = words.split()[0]
        # A hashtag has one sign, and is one word, is small, has capitals inside, or stands in a sentence.
        hashtag = len(signs) == 1 and (
            " " not in words
            or first != first.capitalize()
            or words[-1] in ".!?,;:"
            or _PARAGRAPH_END.match(text.text, match.end()) is None
        )
        if not hashtag and f"{signs}{words}" in _shown(text.text):
            yield concern(
                text.at(match.start("signs")),
                "heading-without-space",
                f"This is no heading, and readers see its sign: '{signs}{words[:40]}'.",
                f"Write a space behind the sign: ## {words[:60]}",
            )
            return


def _blanks(text: Text) -> Iterator[Finding]:
    for match in _TO_COME.finditer(text.text):
        if match.group() == "TK" and (
            _CAPITAL_BEFORE.search(text.text, max(match.start() - 40, 0), match.start())
            or _CAPITAL_BEHIND.match(text.text, match.end())
        ):
            continue
        written = match.group().strip()
        yield concern(
            text.at(match.start()),
            "still-to-come",
            f"{text.name} has '{written}' in it, which marks what is still to be written.",
            "Write what was to come, or take it out.",
        )
        return


def _shown(body: str) -> str:
    """What of a body stands on its page as text, code left out."""
    return "\n".join(
        "".join(
            child.content if child.type == "text" else "\n" if child.type.endswith("break") else "\0"
            for child in token.children or ()
        )
        for token in parse(body)
        if token.type == "inline"
    )


def _start_of_line(text: str, number: int) -> int:
    at = 0
    for _ in range(number):
        at = text.find("\n", at) + 1
    return at
