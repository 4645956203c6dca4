"""Keys that people write one level too high or too low, and where each belongs."""

from __future__ import annotations

from typing import Final

_CONTACT: Final = "It belongs to the contact: contact: {name: …, phone: …, email: …}"
_GOAL: Final = "It belongs to the goal: goal: {number: …, unit: …, so_far: …}"
_PLACE: Final = (
    "It belongs to a place: put it under an entry of where: (or drop_off:), or into the place's own file."
)
_STORY: Final = "It belongs to the story: write it above asks:, without an indent."
_ASK: Final = "It belongs to an ask: put it under asks:, below the ask's '- title:'."
_PHOTO: Final = "It belongs to the photo: photo: {file: …, alt: …, credit: …}"
_VIDEO: Final = "It belongs to the video: video: {file: …, captions: …}"
_ENTRY: Final = "It belongs to the ask: write it two columns farther left, beside where: (or drop_off:)."

_CONTACT_KEYS: Final = ("phone", "email", "web", "pick_up", "ship_to", "languages")
GOAL_KEYS: Final = ("number", "unit", "so_far", "last_time", "counted_on")
_PLACE_KEYS: Final = (
    "place", "street", "postal_code", "position", "special_hours", "step_free", "transit", "parking", "drive_up", "address", "until",
)  # fmt: skip

PLACES_OF_KEYS: Final[dict[str, dict[str, str]]] = {
    "an ask": {
        **dict.fromkeys(_CONTACT_KEYS, _CONTACT),
        **dict.fromkeys(GOAL_KEYS, _GOAL),
        **dict.fromkeys((*_PLACE_KEYS, "town"), _PLACE),
        **dict.fromkeys(("headline", "summary", "aired", "say_on_air", "photo", "video", "follows"), _STORY),
        "county": "Name the counties it is for under helps:; a place's county stands with the place.",
        "with": "It belongs to confirmed: confirmed: {date: …, with: …}",
    },
    "a story": {
        **dict.fromkeys(
            (
                "title", "kind", "starts", "deadline", "check_again_by", "stopped", "dates", "hours", "closed", "minutes", "accepts",
                "not_accepted", "goal", "contact", "confirmed", "drop_off", "where", "who_for", "cost", "payee", "goes_to",
                "registration", "if_too_much",
            ),
            _ASK,
        ),
        **dict.fromkeys(_CONTACT_KEYS, "It belongs to the contact of an ask: contact: {name: …, phone: …}, under asks:."),
        **dict.fromkeys(("alt", "credit", "focus", "children", "consent"), _PHOTO),
        **dict.fromkeys(("captions", "poster", "runs", "described"), _VIDEO),
    },
    "a drop-off": dict.fromkeys(
        ("deadline", "starts", "accepts", "not_accepted", "contact", "kind", "goal", "confirmed", "title"), _ENTRY
    ),
    "a contact": dict.fromkeys(
        ("street", "town", "hours", "address"),
        "Where to go belongs to a place: put it under an entry of where: (or drop_off:).",
    ),
}  # fmt: skip
"""By what a reader calls the group in which the key was written: the key, and what to do with it."""


def where_it_belongs(key: str, written_in: str) -> str:
    """What to do with a key that the group it was written in does not have; empty where nothing is known of it."""
    return PLACES_OF_KEYS.get(written_in, {}).get(key, "")
