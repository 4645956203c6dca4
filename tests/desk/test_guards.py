"""Who may ask the desk for what."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import urlencode

import pytest

from tests.desk.running_desk import TOKEN, Desk, desk_of
from tests.samples.station_folder import STATION

FORM = {"Content-Type": "application/x-www-form-urlencoded"}


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    root = tmp_path_factory.mktemp("station")
    (root / "content").mkdir()
    (root / "content" / "station.yaml").write_text(STATION, "utf-8")
    with desk_of(root) as running:
        yield running


@pytest.mark.parametrize(
    "host",
    ["", "evil.example.org", "evil.example.org:{port}", "127.0.0.1", "127.0.0.1:1", "127.0.0.1.example.org:{port}",
     "[::1]:{port}", "0.0.0.0:{port}", "localhost.:{port}", "127.1:{port}", "user@127.0.0.1:{port}"],
)  # fmt: skip
def test_another_name_is_refused(desk: Desk, host: str) -> None:
    answer = desk.ask("/_desk/", headers={"Host": host.format(port=desk.server.port)})
    assert answer.status == 421
    assert TOKEN not in answer.text


@pytest.mark.parametrize("host", ["127.0.0.1:{port}", "localhost:{port}", "LOCALHOST:{port}"])
def test_its_own_names_are_answered(desk: Desk, host: str) -> None:
    assert desk.ask("/_desk/", headers={"Host": host.format(port=desk.server.port)}).status == 200


def test_it_listens_on_this_machine_alone(desk: Desk) -> None:
    assert desk.server.server_address[0] == "127.0.0.1"


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example.org"},
        {"Origin": "null"},
        {"Origin": "https://127.0.0.1:{port}"},
        {"Origin": "http://localhost:{port}"},
        {"Origin": "http://127.0.0.1:1"},
        {"Origin": "http://127.0.0.1:{port}", "Sec-Fetch-Site": "same-site"},
        {"Origin": "http://127.0.0.1:{port}", "Sec-Fetch-Site": "cross-site"},
    ],
    ids=str,
)
def test_a_post_from_elsewhere_is_refused_even_with_the_token(desk: Desk, headers: dict[str, str]) -> None:
    sent = {name: value.format(port=desk.server.port) for name, value in headers.items()}
    answer = desk.ask("/_desk/", "POST", {**FORM, **sent}, urlencode({"token": TOKEN}).encode())
    assert answer.status == 403


@pytest.mark.parametrize("body", ["", "token=", "token=wrong", f"token={TOKEN}x", "other=1"])
def test_a_post_without_the_token_is_refused(desk: Desk, body: str) -> None:
    assert desk.ask("/_desk/", "POST", FORM, body.encode()).status in (400, 403)


def test_a_post_with_the_token_reaches_its_handler(desk: Desk) -> None:
    # The board takes no posts: 405 is its own answer, behind the guards.
    assert desk.ask("/_desk/", "POST", FORM, urlencode({"token": TOKEN}).encode()).status == 405
    assert desk.ask("/_desk/", "POST", {"X-Desk-Token": TOKEN}).status == 405
    assert desk.ask("/_desk/", "POST", {"X-Desk-Token": "wrong"}).status == 403


def test_every_answer_is_protected(desk: Desk) -> None:
    answers = [
        desk.ask("/_desk/"),
        desk.ask("/_desk/none"),
        desk.ask("/_desk/", headers={"Host": "x"}),
        desk.ask("/_desk/", "PUT"),
        desk.ask("/_desk/", "BREW"),
    ]
    for answer in answers:
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert "frame-ancestors 'none'" in answer.headers["content-security-policy"]
        assert not any(name.startswith("access-control-") for name in answer.headers)


def test_pages_of_elsewhere_may_not_read(desk: Desk) -> None:
    for site in ("cross-site", "same-site"):
        assert (
            desk.ask("/_desk/", headers={"Sec-Fetch-Site": site, "Sec-Fetch-Mode": "no-cors"}).status == 403
        )
    # A link from elsewhere may be followed.
    assert (
        desk.ask("/_desk/", headers={"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}).status
        == 200
    )


@pytest.mark.parametrize(
    "path",
    ["/../content/station.yaml", "/%2e%2e/content/station.yaml", "/_desk/assets/../server.py", "/_desk/assets/%2e%2e/server.py",
     "/_desk/assets/..%2fserver.py", "/_desk/assets/..%5cserver.py", "/_desk/assets//etc/passwd", "//etc/passwd", "/%00", "/a%0d%0aX:1",
     "/_desk/assets/%2fetc%2fpasswd", "http://127.0.0.1/", "/%ff"],
)  # fmt: skip
def test_nothing_outside_is_served(desk: Desk, path: str) -> None:
    answer = desk.ask(path)
    assert answer.status in (400, 404)
    assert b"import" not in answer.body and b"root:" not in answer.body and b"station:" not in answer.body


@pytest.mark.parametrize(
    ("headers", "status"),
    [({"Content-Length": "99999999999"}, 413), ({"Content-Length": "-1"}, 411), ({"Content-Length": "x"}, 411), ({"Transfer-Encoding": "chunked"}, 411)],
    ids=str,
)  # fmt: skip
def test_a_post_says_how_long_it_is(desk: Desk, headers: dict[str, str], status: int) -> None:
    assert desk.ask("/_desk/", "POST", {**FORM, **headers}).status == status
