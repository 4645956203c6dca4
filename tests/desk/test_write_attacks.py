"""What a browser, or a page in it, may not do through the form: write elsewhere, bring in more than pixels, or post without the token."""

from __future__ import annotations

import io
import os
import threading
import zlib
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from PIL import Image

from sitegen.desk.write import saving
from tests.desk.filled_form import FilledForm, form_in, opened
from tests.desk.running_desk import TOKEN, Answer, Desk, desk_of
from tests.samples.full_disk import no_file_above
from tests.samples.station_folder import story, write_folder

COATS = "stories/2026/coats.md"
TEXT = story()


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write_folder(tmp_path / "station", {COATS: TEXT})


@pytest.fixture
def desk(root: Path) -> Iterator[Desk]:
    with desk_of(root) as running:
        yield running


def files_of(folder: Path) -> dict[str, bytes]:
    """Everything that is there, but for what the preview keeps below build/ to be faster."""
    files = (path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
    return {
        name: path.read_bytes()
        for path in files
        if not (name := path.relative_to(folder).as_posix()).startswith("build/preview/")
    }


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


# --- names --------------------------------------------------------------------------------------

BAD_NAMES = (
    "content/../secret.md", "content/stories/../../secret.md", "/etc/passwd", "content/stories//x.md", "content/stories/./x.md",
    "content/station.yaml", "content/photos/x.md", "content/stories/x.yaml", "content/stories/x.md/", "content/stories/.x.md",
    "content/stories/X.md", "content/stories/x\0.md", "content/stories/x\n.md", "content/stories/x\\y.md", "content/stories/é.md",
    "content/stories/" + "x" * 300 + ".md", "content/stories/" + "a/" * 50 + "x.md", "content/places/2026/x.yaml", "stories/x.md", "", "content",
    "content/stories/.md", "content/stories/con tent.md", "content/stories/~x.md", "content/stories/2026/x.md.md",
)  # fmt: skip


@pytest.mark.parametrize("path", BAD_NAMES)
def test_other_names_are_neither_read_nor_written(root: Path, path: str) -> None:
    before = files_of(root)
    with pytest.raises(saving.NameRefusedError):
        saving.read(root, path)
    with pytest.raises(saving.NameRefusedError):
        saving.create(root, path, "x")
    with pytest.raises(saving.NameRefusedError):
        saving.replace(root, path, "x", saving.digest("x"))
    assert files_of(root) == before


@pytest.mark.parametrize(
    "address",
    ["../../station.yaml", "%2e%2e/%2e%2e/x.md", "stories/%2e%2e/%2e%2e/x.md", "stories/x%00.md", "stories/..%5cx.md", "stories/%2fetc.md",
     "station.yaml", "photos/x.jpg", "stories/" + "x" * 2000 + ".md"],
)  # fmt: skip
def test_addresses_lead_nowhere_else(desk: Desk, root: Path, address: str) -> None:
    before = files_of(root)
    form = opened(desk, COATS)
    assert desk.ask(f"/_desk/write/{address}").status in (400, 404)
    assert form.send(desk, "save", f"/_desk/write/{address}").status in (400, 404)
    assert files_of(root) == before


def test_links_out_of_content_are_not_followed(desk: Desk, root: Path) -> None:
    outside = root.parent / "outside"
    outside.mkdir()
    (outside / "x.md").write_text(TEXT)
    (root / "content/stories/linked").symlink_to(outside)
    (root / "content/stories/x.md").symlink_to(outside / "x.md")
    (root / "content/places/y.yaml").symlink_to(outside / "y.yaml")
    form = opened(desk, COATS)
    for path in ("stories/linked/x.md", "stories/x.md", "places/y.yaml"):
        assert desk.ask(f"/_desk/write/{path}").status == 404
        assert form.send(desk, "save", f"/_desk/write/{path}").status in (400, 404)
    with pytest.raises(saving.NameRefusedError):
        saving.create(root, "content/stories/linked/new.md", "x")
    with pytest.raises(saving.NameRefusedError):
        saving.create(root, "content/places/y.yaml", "x")
    assert names_in(outside) == ["x.md"] and (outside / "x.md").read_text() == TEXT


def test_a_link_for_the_folder_of_pictures_is_not_followed(root: Path) -> None:
    outside = root.parent / "outside"
    outside.mkdir()
    (root / "content/photos").symlink_to(outside)
    with pytest.raises(saving.NameRefusedError):
        saving.create_picture(root, "x.jpg", b"x")
    assert names_in(outside) == []


# --- posts --------------------------------------------------------------------------------------


def refused(desk: Desk, form: FilledForm, **headers: str) -> bool:
    return form.send(
        desk, "save", headers={name.replace("_", "-"): value for name, value in headers.items()}
    ).status in (403, 421)


@pytest.mark.parametrize("address", ["", "/_desk/write/new/story", f"/_desk/write/check/{COATS}"])
@pytest.mark.parametrize("token", ["", "x", TOKEN + "x", TOKEN[:-1], None])
def test_every_post_needs_the_token(desk: Desk, root: Path, address: str, token: str | None) -> None:
    form = opened(desk, COATS)
    form.put("headline", "Taken over")
    form.fields = [
        (name, text if name != "token" else token or "")
        for name, text in form.fields
        if name != "token" or token is not None
    ]
    before = files_of(root)
    assert form.send(desk, "save", address).status == 403
    assert files_of(root) == before


@pytest.mark.parametrize("origin", ["https://evil.example.org", "null", "http://127.0.0.1:1"])
def test_posts_from_elsewhere_are_refused_with_a_token_too(desk: Desk, root: Path, origin: str) -> None:
    form = opened(desk, COATS)
    form.put("headline", "Taken over")
    before = files_of(root)
    assert refused(desk, form, Origin=origin)
    assert files_of(root) == before


@pytest.mark.parametrize(
    "do",
    [
        "add nothing",
        "up asks/99999999999999999999",
        "remove asks/-1",
        "add asks/0/0/0",
        "town x",
        "make-place x",
        "remove /",
        "add",
        "\0",
    ],
)
def test_odd_buttons_do_no_harm(desk: Desk, root: Path, do: str) -> None:
    answer = opened(desk, COATS).send(desk, do)
    assert answer.status in (200, 400)
    assert (root / "content" / COATS).read_text() == TEXT


@pytest.mark.parametrize("base", ["", "!", "////", "é", "AAAA"])
def test_a_form_without_its_base_is_not_saved(desk: Desk, root: Path, base: str) -> None:
    form = opened(desk, COATS)
    form.put("base", base)
    form.put("headline", "x")
    assert form.send(desk, "save").status in (400, 409)
    assert (root / "content" / COATS).read_text() == TEXT


def test_of_two_saves_at_once_one_is_told(root: Path) -> None:
    path = f"content/{COATS}"
    seen = saving.digest(TEXT)
    told: list[str] = []

    def save(text: str) -> None:
        try:
            saving.replace(root, path, text, seen)
            told.append("saved")
        except saving.ChangedError:
            told.append("changed")

    threads = [threading.Thread(target=save, args=(f"{TEXT}{number}",)) for number in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(told) == ["changed"] * 11 + ["saved"]
    assert names_in((root / path).parent) == ["coats.md"]


def test_a_disk_that_refuses_leaves_the_file(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(saving.DiskError, match="No space left"):
        saving.replace(root, f"content/{COATS}", "x", saving.digest(TEXT))
    assert (root / "content" / COATS).read_text() == TEXT
    assert names_in((root / "content" / COATS).parent) == ["coats.md"]


def test_a_disk_without_hard_links_that_fills_up_leaves_no_cut_file(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = "content/stories/2026/new.md"
    with monkeypatch.context() as patched, ExitStack() as full:

        def refuse(part: Path, target: Path) -> None:
            full.enter_context(no_file_above(100))
            raise PermissionError(1, "Operation not permitted")

        patched.setattr(os, "link", refuse)
        with pytest.raises(saving.DiskError, match="too large"):
            saving.create(root, path, "x" * 200)
    assert names_in((root / path).parent) == ["coats.md"]
    saving.create(root, path, "x" * 200)
    assert (root / path).read_text() == "x" * 200


# --- pictures -----------------------------------------------------------------------------------


def picture(size: tuple[int, int] = (40, 20), kind: str = "JPEG", **options: object) -> bytes:
    written = io.BytesIO()
    Image.new("RGB", size, "teal").save(written, kind, **options)
    return written.getvalue()


def with_position() -> bytes:
    exif = Image.Exif()
    exif[0x0112] = 6  # to be turned by a quarter
    exif[0x010E] = "Ada Quill at home"
    exif.get_ifd(0x8825).update({1: "N", 2: (34.0, 42.0, 0.0), 3: "W", 4: (60.0, 30.0, 0.0)})
    return picture(exif=exif, comment=b"a remark")


def upload(
    desk: Desk, data: bytes, name: str = "Coat Closet.JPG", media: str = "image/jpeg", **said: str
) -> Answer:
    form = opened(desk, COATS)
    for key, text in {
        "alt": "Two coats on a rail",
        "credit": "Ada Quill",
        "children": "false",
        **said,
    }.items():
        form.put(f"photo/{key}", text)
    form.files = [("picture", name, media, data)]
    return form.send(desk, "take-picture")


def test_a_picture_is_made_anew_without_what_the_camera_knew(desk: Desk, root: Path) -> None:
    data = with_position()
    assert b"Ada Quill at home" in data
    answer = upload(desk, data)
    form = form_in(answer.text)
    assert form.get("photo/file") == "coat-closet.jpg"
    stored = (root / "content/photos/coat-closet.jpg").read_bytes()
    assert b"Ada" not in stored and b"remark" not in stored and b"Exif" not in stored
    with Image.open(io.BytesIO(stored)) as image:
        assert image.format == "JPEG" and image.size == (20, 40), "turned upright"
        assert not image.getexif() and not {"exif", "icc_profile", "comment", "xmp"} & image.info.keys()
    assert form.send(desk, "save").status == 303
    assert (
        "photo: {file: coat-closet.jpg, alt: Two coats on a rail, credit: Ada Quill, children: false}\n"
        in (root / "content" / COATS).read_text()
    )


def test_a_picture_of_the_same_name_takes_another_one(desk: Desk, root: Path) -> None:
    assert form_in(upload(desk, picture()).text).get("photo/file") == "coat-closet.jpg"
    assert form_in(upload(desk, picture()).text).get("photo/file") == "coat-closet.jpg", "it is the same"
    assert form_in(upload(desk, picture((50, 50))).text).get("photo/file") == "coat-closet-2.jpg"
    assert names_in(root / "content/photos") == ["coat-closet-2.jpg", "coat-closet.jpg"]


@pytest.mark.parametrize(
    ("name", "stored"),
    [("../../x.jpg", "x.jpg"), ("..\\..\\x.php", "x.jpg"), ("/etc/passwd", "passwd.jpg"), ("....", "picture.jpg"), ("x\0y.jpg", None),
     ("é" * 400 + ".jpg", "e" * 100 + ".jpg"), (".htaccess", "htaccess.jpg"), ("a b&c.PNG", "a-b-c.jpg")],
)  # fmt: skip
def test_its_name_is_only_letters_and_digits(desk: Desk, root: Path, name: str, stored: str | None) -> None:
    before = files_of(root)
    upload(desk, picture(), name)
    new = files_of(root).keys() - before.keys()
    assert new <= {f"content/photos/{stored}"} or (
        stored is None and all(each.startswith("content/photos/") for each in new)
    )
    assert stored is None or new


def png_of(width: int, height: int) -> bytes:
    """A PNG's head that claims a size, with next to nothing behind it."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return len(data).to_bytes(4, "big") + kind + data + zlib.crc32(kind + data).to_bytes(4, "big")

    head = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes((8, 2, 0, 0, 0))
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(bytes(1000)))
        + chunk(b"IEND", b"")
    )


ATTACKS = {
    "drawing": b'<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>',
    "drawing-after-blanks": b'\xef\xbb\xbf \n<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>',
    "page": b"<!doctype html><script>alert(1)</script>",
    "bomb": png_of(60000, 60000),
    "cut-short": picture()[:200],
    "hollow": png_of(100, 100),
    "tiff": picture(kind="TIFF"),
    "bmp": picture(kind="BMP"),
    "text": b"hello",
    "empty": b"",
    "pdf": b"%PDF-1.7",
    "script": b"#!/bin/sh\n",
}


@pytest.mark.parametrize("name", ATTACKS)
def test_what_is_no_picture_is_not_stored(desk: Desk, root: Path, name: str) -> None:
    before = files_of(root)
    answer = upload(desk, ATTACKS[name], "x.jpg")
    assert answer.status == 200 and "The picture was not taken in" in answer.text
    assert form_in(answer.text).get("photo/alt") == "Two coats on a rail", "what was entered is kept"
    assert files_of(root) == before


def test_a_page_behind_a_picture_does_not_come_along(desk: Desk, root: Path) -> None:
    upload(desk, picture() + b"<script>alert(1)</script>", "x.jpg")
    assert b"<script" not in (root / "content/photos/x.jpg").read_bytes()


@pytest.mark.parametrize(
    "said",
    [
        {"alt": " "},
        {"credit": ""},
        {"children": ""},
        {"children": "true"},
        {"children": "true", "consent": " "},
    ],
    ids=["words", "credit", "children", "consent", "blank-consent"],
)
def test_a_picture_waits_for_what_must_be_said(desk: Desk, root: Path, said: dict[str, str]) -> None:
    answer = upload(desk, picture(), **said)
    assert "The picture was not taken in" in answer.text and not (root / "content/photos").exists()


def test_a_picture_of_children_with_a_consent_is_taken(desk: Desk, root: Path) -> None:
    upload(desk, picture(), children="true", consent="form of 2026-11-18")
    assert (root / "content/photos/coat-closet.jpg").is_file()


def test_a_picture_that_is_chosen_when_saving_is_taken_in_or_nothing_is_saved(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("headline", "With a picture")
    form.files = [("picture", "x.jpg", "image/jpeg", picture())]
    answer = form.send(desk, "save")
    assert answer.status == 422 and (root / "content" / COATS).read_text() == TEXT
    form = form_in(answer.text)
    for key, text in {"alt": "Two coats on a rail", "credit": "Ada Quill", "children": "false"}.items():
        form.put(f"photo/{key}", text)
    form.files = [("picture", "x.jpg", "image/jpeg", picture())]
    assert form.send(desk, "save").status == 303
    assert "photo: {file: x.jpg, alt: Two coats on a rail" in (root / "content" / COATS).read_text()


def test_too_much_at_once_is_refused(desk: Desk, root: Path) -> None:
    answer = desk.ask(
        f"/_desk/write/{COATS}",
        "POST",
        {"Content-Type": "application/x-www-form-urlencoded", "Content-Length": "999999999"},
    )
    assert answer.status == 413
    form = opened(desk, COATS)
    form.put("body", "x" * 1_100_000)
    assert form.send(desk, "save").status == 500
    assert (root / "content" / COATS).read_text() == TEXT
