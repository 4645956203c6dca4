"""A station in which every key of every file is written once, for tests of reading and of breaking."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

STATION = """\
station: Saltmarsh Community Television
programme: Small Wonders
address: https://www.example.org/small-wonders/
time_zone: America/New_York
language: en-US
contact: {email: goodnews@example.org, phone: 237-555-0100, answers: "Mo-Fr 09:00-17:00", mail: "1 Quay Street, Tidewick"}
theme: tidetable
last_days: 4
recheck_days: 9
area_word: parish
media_host: https://video.example.org
holidays: [2026-11-26, 2026-12-25]
as_of: 2026-12-01 12:00
counties:
  - name: Tidewick
    key: tidewick-shore
    seat: Port Tidewick
    position: [34.61, -60.42]
    towns:
      - {name: Millrace, position: [34.7, -60.5], postal_codes: [SC-104, "0123"]}
      - Sandy End
  - {name: Pellam}
map: counties.geojson
security: {contact: "mailto:security@example.org", expires: 2027-11-01}
desk: {owner: the web desk}
"""

PLACE = """\
name: Millrace Library
street: 2 Pier Lane
town: Millrace
county: Tidewick
postal_code: 07
position: [34.71, -60.51]
hours: "Mo-Fr 09:00-17:00; 2nd Sa 10:00-12:00"
closed: [2026-12-25, 2026-11-26]
special_hours: {2026-12-24: "09:00-12:00", 2026-12-12: "08:00-12:00,22:00-01:00"}
step_free: yes
transit: Bus 4 to Pier Lane
parking: Behind the building
drive_up: no
note: Ring the side bell
phone: 237-555-0142
web: https://library.example.org/
desk: {key: with Ada}
"""

HOME = """\
name: The Oakes' porch
town: Sandy End
county: tidewick-shore
hours: by appointment
address: withheld
home: {consent: 2026-11-01}
step_free: unknown
"""

EARLIER = """\
---
headline: Coats, a year ago
aired: 2025-11-22
county: beyond
---
It was cold.
"""

STORY = """\
---
headline: A library closet wants 400 winter coats
summary: The Friends of Millrace Library fill the coat closet again.
aired: 2026-11-21
county: [Tidewick, Pellam]
town: Millrace
reporter: Ada Quill
topics: [clothing, Public Libraries]
embargo: 2026-11-21 18:30
hold: false
say_on_air: coats
heard_as: [coat, cotes]
photo: {file: coat-closet.png, alt: "Two volunteers hang coats on a rail", credit: Ada Quill, courtesy: The Friends, use: air only, focus: [0.25, 0.3], children: true, consent: "form 12", rights_end: 2027-01-31}
video: {file: https://video.example.org/coats.mp4, captions: coats.vtt, poster: coat-closet.png, runs: "1:35", described: in the narration, courtesy: The Friends, use: web only, rights_end: 2027-01-31 12:00}
sponsored_by: Quay Bakery
language: es
follows: 2025/coat-closet
translates: 2025/coat-closet
old_addresses: [/old/coats/, /coats-2026]
withdrawn: {date: 2026-12-24, notice: Withdrawn at the family's wish.}
corrections:
  - {date: 2026-11-25, kind: update, text: The drive goes on.}
  - {date: 2026-11-23, kind: clarification, text: "An earlier version gave the wrong closing time."}
desk: {cleared: "M. Oake, 2026-11-20"}
asks:
  - title: Bring a winter coat
    kind: bring
    key: coat-drive
    starts: 2026-11-15
    deadline: 2026-12-15
    stopped: {when: 2026-12-10 15:00, say: The shelves are full., instead: Bring food instead.}
    accepts: [clean winter coats, "gloves: in pairs"]
    not_accepted: [shoes]
    helps: [Pellam, beyond]
    goal: {number: 400, unit: coats, so_far: 120, last_time: 210.5, counted_on: 2026-11-20}
    contact: {name: Friends of Millrace Library, phone: 237-555-0142, email: coats@example.org, web: https://friends.example.org/, pick_up: We come by van, ship_to: 4 Hill Road, languages: [en, es]}
    confirmed: {date: 2026-11-20, with: branch manager}
    if_too_much: goes to the spring drive
    desk: {call: on Monday}
    drop_off:
      - millrace-library
      - {place: millrace-library, from: 2026-11-18, until: 2026-12-12 13:00, hours: "Mo-Sa 07:00-13:00", closed: [2026-11-27], special_hours: {2026-12-12: "08:00-09:00"}, note: ask inside, stopped: {when: 2026-12-11, say: Full.}}
      - {name: Pellam Fire Station 2, street: 4 Hill Road, town: Pellam Cross, county: Pellam, postal_code: SC-300, position: [34.8, -60.2], hours: unknown, closed: 2026-12-01, special_hours: {2026-12-02: closed}, step_free: no, transit: none, parking: In front, drive_up: yes, note: Ring twice, phone: 237-555-0143, web: https://station.example.org/, address: withheld, home: {consent: 2026-11-02}, desk: x, from: 2026-11-19, until: 2026-12-13, stopped: {when: 2026-12-09, say: Moved., instead: Go to the library.}}
  - title: Bring food
    kind: bring
    deadline: ongoing
    check_again_by: 2027-01-15
    contact: {phone: 237-555-0142}
  - title: See the lights
    kind: go
    dates: [2026-12-18 19:00, 2026-11-27..2026-12-26]
    hours: "Mo-Su 17:30-22:00"
    closed: [2026-12-24]
    quieter: "Mo-Th"
    cost: free
    bring: a lamp
    where: [millrace-library]
  - title: Watch the anniversary hour
    kind: tune in
    dates: 2026-12-18 19:00
    minutes: 60
  - title: A warm coat for anyone who needs one
    kind: get help
    deadline: 2026-12-18
    who_for: anyone, no papers asked
    cost: free
    bring: nothing
    where: [oakes-porch]
    contact: {phone: 237-555-0142}
  - title: Help refill the coat fund
    kind: give
    deadline: 2026-12-15 17:30
    payee: Friends of Millrace Library
    goes_to: organization
    registration: "12-345"
    if_too_much: goes to the spring reading fund
  - title: Sort coats
    kind: volunteer
    deadline: 2026-12-14
    bring: gloves
    where: millrace-library
listing: parades-2026.csv
---
The closet is [on the web](https://friends.example.org/), and last year's is [here](2025/coat-closet).
"""

LISTING = """\
what,town,county,date,starts,ends,place,note,stopped
Lantern parade,Millrace,Tidewick,2026-12-05,18:00,20:30,"Pier Lane, north end",Bring a lamp,
Boat parade,Sandy End,Tidewick,2026-12-05,17:00,01:00,,,called off
Band,Pellam Cross,Pellam,2026-12-04,,,,,2026-12-03 12:00 moved indoors
"""

EPISODE = """\
---
aired: 2026-11-21 18:30
repeats: [2026-11-22 09:00, 2026-11-21 23:00]
hold: true
title: Coats, carols and a hundredth birthday
video: {file: https://video.example.org/e.mp4, captions: coats.vtt, poster: coat-closet.png, runs: "00:28:30", described: no, courtesy: c, use: air and web, rights_end: 2027-01-31, web_offset: "-0:02:10"}
rundown:
  - {time: "00:00:35", story: 2026/coat-closet}
  - {story: 2025/coat-closet}
promises:
  - {time: "00:09:20", said: the list is on our website, kept_by: 2026/coat-closet}
desk: {director: Lou}
---
All of it.
"""

PAGE = """\
---
title: About us
summary: Who we are.
language: en-GB
desk: checked
---
We tell good news. Write to [us](mailto:goodnews@example.org).
"""

CAPTIONS = """\
WEBVTT

00:00:01.000 --> 00:00:03.000
<v Ada>Coats are
warm.
"""

MAP = """\
{"type": "FeatureCollection", "features": [
{"type": "Feature", "properties": {"name": "Tidewick"}, "geometry": {"type": "Polygon",
 "coordinates": [[[-60.6, 34.5], [-60.3, 34.5], [-60.3, 34.8], [-60.6, 34.8], [-60.6, 34.5]]]}},
{"type": "Feature", "properties": {"name": "Pellam"}, "geometry": {"type": "Polygon",
 "coordinates": [[[-60.3, 34.5], [-60.0, 34.5], [-60.0, 34.8], [-60.3, 34.8], [-60.3, 34.5]]]}}]}
"""

FILES = {
    "station.yaml": STATION,
    "places/millrace-library.yaml": PLACE,
    "places/oakes-porch.yaml": HOME,
    "stories/2025/coat-closet.md": EARLIER,
    "stories/2026/coat-closet.md": STORY,
    "listings/parades-2026.csv": LISTING,
    "episodes/2026-11-21.md": EPISODE,
    "pages/about.md": PAGE,
    "captions/coats.vtt": CAPTIONS,
    "counties.geojson": MAP,
}
"""Text files by path under content/. The picture photos/coat-closet.png is drawn by `write_whole`."""


def write_whole(root: Path, changes: dict[str, str | bytes | None] | None = None) -> Path:
    """The whole station below `root`, with some files changed, added or (None) left out."""
    content = root / "content"
    for path, text in ({**FILES, **(changes or {})}).items():
        target = content / path
        if text is None:
            continue
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    picture = content / "photos" / "coat-closet.png"
    if not picture.exists():
        picture.parent.mkdir(parents=True, exist_ok=True)
        Image.new("RGB", (8, 4), "teal").save(picture)
    return root
