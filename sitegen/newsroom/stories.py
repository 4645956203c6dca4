"""Reading stories: content/stories/**/*.md."""

from __future__ import annotations

import re
from datetime import date

from sitegen.newsroom.asks import ASK_KEYS, read_asks
from sitegen.newsroom.context import Context
from sitegen.newsroom.fields import WHILE_HELD, Fields
from sitegen.newsroom.galley import set_body
from sitegen.newsroom.matter import Matter
from sitegen.newsroom.records import (
    Correction,
    CorrectionKind,
    Photo,
    Story,
    Video,
    When,
    Withdrawn,
)
from sitegen.newsroom.slugs import BEYOND, slug
from sitegen.newsroom.station import is_language

STORY_KEYS = (
    "headline", "summary", "aired", "county", "town", "reporter", "topics", "embargo", "hold", "say_on_air", "heard_as",
    "photo", "video", "sponsored_by", "language", "follows", "translates", "old_addresses", "withdrawn", "corrections", "desk", "asks",
    "listing",
)  # fmt: skip
PHOTO_KEYS = ("file", "alt", "credit", "courtesy", "use", "focus", "children", "consent", "rights_end")
VIDEO_KEYS = ("file", "captions", "poster", "runs", "described", "courtesy", "use", "rights_end")
CORRECTION_KEYS = ("date", "kind", "text")
WITHDRAWN_KEYS = ("date", "notice")
NO_DAY = date(1900, 1, 1)
"""Stands in for a missing air date while the rest of a faulty story is read."""
NO_HEADLINE = "No headline yet"
"""Stands in for the headline of a story on hold, which the preview can show."""
USES = ("air and web", "air only", "web only")


def read_story(
    matter: Matter,
    path: str,
    story_id: str,
    episode_aired: When | None,
    episodes: tuple[str, ...],
    context: Context,
) -> Story | None:
    """A story's record; None when what it must have is missing. `episode_aired` is its first episode's."""
    if matter.node is None:
        return None
    fields = Fields(matter.node, path, context.findings, STORY_KEYS, "a story")
    hold = fields.flag("hold")
    fields.held = hold
    fields.require("headline", "A library closet wants 400 winter coats")
    aired = fields.when("aired", context.zone)
    if aired is None and not fields.has("aired"):
        aired = episode_aired
        if aired is None:
            fields.missing(
                "aired",
                "'aired' is missing, and no episode's rundown has this story.",
                "Write, for example: aired: 2026-11-21",
            )
    fields.near = aired.day if aired is not None else None
    if aired is None and hold and not fields.has("aired"):
        aired = When(_first_day(story_id))
    counties = _counties(fields, context)
    language = fields.text("language")
    if language and not is_language(language):
        fields.fault(
            "language", "language", f"'{language}' is not a language tag.", "Write, for example: language: es"
        )
    words = fields.slugs("say_on_air")
    if len(words) > 1:
        fields.fault(
            "say_on_air",
            "wrong-shape",
            "'say_on_air' is one word; other spellings go under heard_as.",
            f"Write: say_on_air: {words[0]}",
        )
    listing_name = fields.text("listing")
    galley, links = set_body(matter.body, matter.body_line)
    story = Story(
        id=story_id,
        headline=fields.text("headline") or (NO_HEADLINE if hold else ""),
        aired=aired or When(NO_DAY),
        counties=counties,
        summary=fields.text("summary"),
        town=fields.text("town"),
        reporter=fields.text("reporter"),
        topics=_topics(fields),
        embargo=fields.when("embargo", context.zone),
        hold=hold,
        say_on_air=words[0] if words else "",
        heard_as=fields.slugs("heard_as"),
        photo=read_photo(fields, context),
        video=read_video(fields, context),
        sponsored_by=fields.text("sponsored_by"),
        language=language,
        follows=fields.text("follows"),
        translates=fields.text("translates"),
        old_addresses=_old_addresses(fields),
        withdrawn=_withdrawn(fields),
        corrections=_corrections(fields),
        asks=read_asks(fields.groups("asks", ASK_KEYS, "an ask"), counties, context),
        listing=context.listing(listing_name, fields.spot("listing")) if listing_name else (),
        body=matter.body,
        body_line=matter.body_line,
        galley=galley,
        links=links,
        episodes=episodes,
        origin=fields.origin,
    )
    if not story.headline or aired is None or (not counties and context.station is not None):
        return None
    return story


def _first_day(story_id: str) -> date:
    """Of the year whose folder a story lies in: stands in for the air date of one on hold that has none yet."""
    year = story_id.partition("/")[0]
    return date(int(year), 1, 1) if re.fullmatch(r"[12]\d{3}", year, re.ASCII) else NO_DAY


def _counties(fields: Fields, context: Context) -> tuple[str, ...]:
    """The counties written, else that of the town; `beyond` stands alone."""
    town = fields.text("town")
    if fields.has("county"):
        counties = context.counties(fields, "county", beyond=True)
        context.check_town(fields, counties, "the story's")
        if "beyond" in counties and len(counties) > 1:
            fields.fault(
                "county",
                "unknown-county",
                "'beyond' stands alone: it is for stories from outside the station's area.",
                "Write: county: beyond, or the counties only.",
            )
            return ()
        return counties
    context.check_town(fields, (), "the story's")
    homes = context.counties_of_town(town) if town else ()
    if len(homes) == 1:
        return homes
    if len(homes) > 1:
        fields.missing(
            "town",
            f"There is a {town} in more than one county, and 'county' is missing.",
            "Add the county.",
        )
    elif fields.held:
        fields.concern(
            "county",
            WHILE_HELD,
            "'county' is empty: this story cannot be published before it is written.",
            "Write it before `hold: true` goes: one county, a list, or: beyond",
        )
    else:
        example = context.station.counties[0].name if context.station is not None else "Tidewick"
        fields.require("county", f"{example}  (or a list, or: beyond)")
    return (BEYOND,) if fields.held else ()


def _topics(fields: Fields) -> tuple[str, ...]:
    topics: list[str] = []
    for text, spot in fields.located_texts("topics"):
        if not slug(text):
            fields.findings.fault(
                spot, "not-a-slug", f"The topic '{text}' has no letter or digit that an address could hold."
            )
        elif slug(text) not in {slug(each) for each in topics}:
            topics.append(text)
            several = [part.strip() for part in re.split("[,;]", text) if part.strip()]
            if len(several) > 1:
                fields.findings.concern(
                    spot,
                    "several-topics",
                    f"The topic '{text}' is several in one, and has a page of its own.",
                    f"Write a list: topics: [{', '.join(several)}]",
                )
    return tuple(topics)


def _old_addresses(fields: Fields) -> tuple[str, ...]:
    found: list[str] = []
    for text, spot in fields.located_texts("old_addresses"):
        parts = text.strip("/").split("/")
        if not text.startswith("/") or not all(part and part == slug(part) for part in parts):
            good = "/".join(slug(part) for part in parts if slug(part))
            fields.findings.fault(
                spot,
                "not-a-slug",
                f"'{text}' cannot be an address of this site.",
                f"Write instead: /{good}/" if good else "Write, for example: /old/coats/",
            )
        else:
            found.append("/".join(parts) + "/")
    return tuple(dict.fromkeys(found))


def _withdrawn(fields: Fields) -> Withdrawn | None:
    group = fields.group("withdrawn", WITHDRAWN_KEYS, "withdrawn")
    if group is None or not group.require("date", "2026-11-23"):
        return None
    group.require("notice", "This story was withdrawn at the family's wish.")
    day = group.day("date")
    return Withdrawn(day, group.text("notice")) if day is not None else None


def _corrections(fields: Fields) -> tuple[Correction, ...]:
    found: list[Correction] = []
    for group in fields.groups("corrections", CORRECTION_KEYS, "a correction"):
        whole = [
            group.require("date", "2026-11-23"),
            group.require("text", '"An earlier version gave the wrong closing time."'),
        ]
        kind = group.choice("kind", tuple(CorrectionKind), "correction")
        day = group.day("date")
        if all(whole) and day is not None:
            found.append(Correction(day, CorrectionKind(kind), group.text("text"), group.origin))
    return tuple(sorted(found, key=lambda each: each.date))


def read_photo(fields: Fields, context: Context) -> Photo | None:
    photo = fields.group("photo", PHOTO_KEYS, "a photo")
    if photo is None or not photo.require("file", "coat-closet.jpg"):
        return None
    name = photo.text("file")
    if not photo.has("alt"):
        photo.concern(
            "alt",
            "photo-without-alternative",
            f"The photo {name} has no text for people who do not see it; it is not shown until it has.",
            'Write: alt: "Two volunteers hang coats on a rail"',
        )
    elif _is_no_description(photo.text("alt"), name):
        photo.concern(
            "alt",
            "photo-alternative-is-a-name",
            f"'{photo.text('alt')[:60]}' says nothing of what the photo {name} shows; it is read out to people who do not see it.",
            'Write what it shows: alt: "Two volunteers hang coats on a rail"',
        )
    use = photo.choice("use", USES, "air and web")
    children, consent = photo.flag("children"), photo.text("consent")
    if children and not consent:
        photo.concern(
            "consent",
            "photo-without-consent",
            f"The photo {name} shows children and no consent is on file; it is not shown.",
            'Write where the consent is kept: consent: "form of 2026-11-18"',
        )
    if use == "air only":
        photo.concern(
            "use",
            "photo-air-only",
            f"The photo {name} is cleared for air only; it is not shown.",
            "Clear it for the web, or take another.",
        )
    return Photo(
        picture=context.picture(name, photo.spot("file")),
        alt=photo.text("alt"),
        credit=photo.text("credit"),
        courtesy=photo.text("courtesy"),
        air_only=use == "air only",
        focus=_focus(photo),
        children=children,
        consent=consent,
        rights_end=photo.when("rights_end", context.zone, ends=True),
        origin=photo.origin,
    )


_PICTURE_NAME = re.compile(
    r"\S.*\.(?:jpe?g|png|gif|webp|avif|heic|heif|tiff?|bmp|svg|cr2|nef|dng|psd)"
    r"|(?:img|dsc|dscn|dscf|pxl|mvi|gopr|image|photo|picture|scan|untitled|screenshot)[\s_-]*\(?[\d_-]*\)?",
    re.IGNORECASE,
)
"""A name that a camera or a program gave (common practice, no source), any picture's file name, or the bare word for one."""
_BARE_WORDS = ("photograph", "pic", "graphic", "alt", "alt text", "caption")


def _is_no_description(alt: str, file: str) -> bool:
    """True for a photo's text that is a file's name, or the word for a picture and nothing more."""
    words = alt.strip().rstrip(".").lower()
    stem = file.lower().rpartition("/")[2].rpartition(".")[0]
    # A stem of plain words may be a description: `choir.jpg` may show a choir.
    own = words == stem and not stem.replace(" ", "").isalpha()
    return own or words in _BARE_WORDS or _PICTURE_NAME.fullmatch(alt.strip().rstrip(".")) is not None


def _focus(photo: Fields) -> tuple[float, float]:
    texts = photo.texts("focus")
    if not texts:
        return (0.5, 0.5)
    try:
        left, top = (float(text) for text in texts)
    except ValueError:
        left, top = -1.0, -1.0
    if not (0 <= left <= 1 and 0 <= top <= 1):
        photo.fault(
            "focus",
            "focus",
            "'focus' must be two numbers from 0 to 1: from the left, and from the top.",
            "Write, for example: focus: [0.5, 0.3]",
        )
        return (0.5, 0.5)
    return (left, top)


def read_video(fields: Fields, context: Context, episode: bool = False) -> Video | None:
    video = fields.group("video", (*VIDEO_KEYS, "web_offset") if episode else VIDEO_KEYS, "a video")
    if video is None or not video.require("file", "https://video.example.org/coats.mp4"):
        return None
    address = video.web("file")
    captions_name, poster_name = video.text("captions"), video.text("poster")
    captions = context.captions(captions_name, video.spot("captions")) if captions_name else None
    poster = context.picture(poster_name, video.spot("poster")) if poster_name else None
    use = video.choice("use", USES, "air and web")
    record = Video(
        file=address,
        captions=captions,
        poster=poster,
        runs=video.seconds("runs"),
        described=video.text("described"),
        courtesy=video.text("courtesy"),
        air_only=use == "air only",
        rights_end=video.when("rights_end", context.zone, ends=True),
        web_offset=(video.seconds("web_offset", signed=True) or 0) if episode else 0,
        origin=video.origin,
    )
    if not captions_name:
        video.concern(
            "captions",
            "video-without-captions",
            "The video has no captions yet; the page says it is to come.",
            "Add the WebVTT file to content/captions/ and name it: captions: coats.vtt",
        )
    if use == "air only":
        video.concern(
            "use",
            "video-air-only",
            "The video is cleared for air only; it is not shown.",
            "Clear it for the web, or leave it out.",
        )
    host = context.station.media_host if context.station is not None else ""
    if address and not (host and address.startswith(host + "/")):
        if context.station is not None:  # else nobody can tell what it declares
            video.concern(
                "file",
                "video-host",
                f"The video lies on a host that station.yaml does not declare as media_host{f' ({host})' if host else ''}; it is not shown.",
                "Move the video, or declare its host: media_host: https://…",
            )
        return None
    return record if address else None
