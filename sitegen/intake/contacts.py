"""Phone numbers, e-mail and web addresses as hosts read them aloud: `five five five, oh one four two`, `coats at example dot org`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from sitegen.intake.records import Said, Sentence, SpokenContact

_PHONE = re.compile(r"(?<![\d$/-])(?:1[-. ])?(?:\(?(\d{3})\)?[-. ])?(\d{3})[-. ](\d{4})(?![\d/-])")
_DOMAIN = r"(?:[a-z0-9-]+(?: dot |\.))+(?:org|com|net|edu|gov|tv|info|us|uk|ca|au|example)"
_EMAIL = re.compile(
    rf"(?<![\w.@-])(?P<name>[a-z0-9]+(?:(?: dot | underscore | dash |[._-])[a-z0-9]+)*)(?: at |@)(?P<domain>{_DOMAIN})\b"
)
_WEB = re.compile(
    rf"(?:\b(?:https?://))?\b(?:(?:www|w w w)(?: dot |\.))?(?P<domain>{_DOMAIN})(?P<path>(?:(?: slash |/)[a-z0-9-]+)*)"
)
_WRITING_TO = re.compile(r"\b(?:e-?mail|write|address is|reach|contact|drop a line|message|it's|to)\b")
_GOING_TO = re.compile(
    r"\b(?:visit|go|head|site|website|online|log|find|see|check|look|posted|listed|web|everything|details|list|up|addresses|map)\b"
)


def contacts_in(sentences: Sequence[Sentence]) -> tuple[SpokenContact, ...]:
    """The ways to reach somebody in a segment, each once."""
    found: dict[tuple[str, str], SpokenContact] = {}
    for sentence in sentences:
        said = Said(sentence.text, sentence.start)
        text = sentence.plain
        for match in _PHONE.finditer(text):
            value = "-".join(part for part in match.groups() if part)
            found.setdefault(("phone", value), SpokenContact("phone", value, said))
        taken: list[tuple[int, int]] = []
        for match in _EMAIL.finditer(text):
            name = match["name"].rpartition(" ")[2] if " dot " not in match["name"] else match["name"]
            if _is_web_after_at(text, match.start()):
                continue
            local = re.sub(r" dot ", ".", re.sub(r" underscore ", "_", re.sub(r" dash ", "-", name)))
            value = f"{local}@{match['domain'].replace(' dot ', '.')}"
            found.setdefault(("email", value), SpokenContact("email", value, said))
            taken.append(match.span())
        for match in _WEB.finditer(text):
            if any(start <= match.start() < end for start, end in taken):
                continue
            path = match["path"].replace(" slash ", "/")
            value = "https://" + match["domain"].replace(" dot ", ".") + path + ("" if path else "/")
            found.setdefault(("web", value), SpokenContact("web", value, said))
    return tuple(found.values())


def _is_web_after_at(text: str, start: int) -> bool:
    """`find it at example dot org`: the word before `at` is a verb's, not a mailbox."""
    word = re.match(r"[a-z0-9]+", text[start:])
    before = text[:start]
    return word is not None and (
        word[0] in ("it", "them", "that", "is", "are", "online", "site", "website", "us", "this", "up", "all", "found", "more", "list",
                    "out", "there", "here", "details", "information", "visit", "look", "web", "page", "everything", "now", "addresses", "address", "map", "form", "listed", "posted")
        or (_GOING_TO.search(before[-40:]) is not None and _WRITING_TO.search(before[-25:]) is None)
    )  # fmt: skip
