"""A headline to begin with: the rundown's, else the sentence that says most of what a story is about."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from sitegen.intake.borders import content_words
from sitegen.intake.records import Sentence

LONGEST = 84
"""Characters."""
_LEAD_IN = re.compile(
    r"\A(?:(?:and|but|so|now|well|okay|all right|meanwhile|finally|next up|next|last one|last thing|also tonight|finally tonight|and finally|of course|in fairness|listen|over in|speaking of [^,.]*),? )+(?=\w)",
    re.IGNORECASE,
)
_POOR = re.compile(
    r"\b(?:website|screen|our site|good evening|welcome|thank you|thanks|reports?\b.*\Z|i'm [A-Z]|good night|here's|i want to|can i|let me|tell me|you ready)\b|\?\Z",
    re.IGNORECASE,
)
_TO_A_COLLEAGUE = re.compile(
    r"\A(?:[Oo]kay,? |[Aa]nd |[Ss]o )?[A-Z][\w'’-]+, (?:you|you['’]\w+|tell|what|how|can)\b"
)
"""`Tess, you've got the dentists.`"""


def headline(sentences: Sequence[Sentence], known: str = "") -> str:
    """A suggestion of at most 84 characters; `known` is the rundown's headline."""
    if known:
        return known.title() if known.isupper() and len(known) > 40 else known
    if not sentences:
        return ""
    about = Counter(word for sentence in sentences for word in set(content_words(sentence.plain)))
    best, score = sentences[0].text, -1.0
    for number, sentence in enumerate(sentences[:8]):
        words = content_words(sentence.plain)
        count = len(sentence.text.split())
        if count < 4 or _POOR.search(sentence.text) or _TO_A_COLLEAGUE.match(sentence.text):
            continue
        worth = sum(about[word] for word in set(words)) / (4 + len(words)) + 1.2 / (1 + number)
        worth += 0.4 * any(word[:1].isupper() for word in sentence.text.split()[1:])
        worth -= 0.5 * (count > 22) + 0.5 * (not sentence.text[:1].isalpha())
        if re.match(
            r"(?:he|she|it|they|that|this|his|her|their|i|you|we|the shelter says)\b", sentence.text.lower()
        ):
            worth -= 0.9
        if worth > score:
            best, score = sentence.text, worth
    return _short(best)


def _short(text: str) -> str:
    text = _LEAD_IN.sub("", text).strip().rstrip(".…! ")
    text = text[:1].upper() + text[1:]
    if len(text) <= LONGEST:
        return text
    clauses = re.split(r"(?<=[,;:])\s|\s[–—-]\s", text)
    kept = ""
    for clause in clauses:
        if kept and len(kept) + len(clause) + 1 > LONGEST:
            break
        kept = f"{kept} {clause}".strip()
    kept = kept.rstrip(",;: ")
    if 20 <= len(kept) <= LONGEST:
        return kept
    return text[:LONGEST].rsplit(" ", 1)[0].rstrip(",;: ") + " …"
