"""Who may ask the desk for what: every check of a request and every protecting header, in one place.

The server listens on this machine alone, but any page in any browser on it can send requests here. So a request must be
addressed to this server by name (against names that were made to point here), a post must come from a page of this server
and bear the token of this run, and nothing is readable from elsewhere.
"""

from __future__ import annotations

import hmac
from collections.abc import Mapping, Sequence
from http import HTTPStatus
from urllib.parse import unquote_to_bytes

from sitegen.desk.exchange import MOST_BODY_BYTES, FormError, Request, Response, plain

NAMES = ("127.0.0.1", "localhost")
"""What this server may be called."""
TOKEN_FIELD = "token"
TOKEN_HEADER = "x-desk-token"

PAGE_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
    "worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""Of the desk's own pages. Pages of the edition bring their own, and get FRAME_POLICY beside it."""
FRAME_POLICY = "frame-ancestors 'none'"

HEADERS: Mapping[str, str] = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": PAGE_POLICY,
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "X-Robots-Tag": "noindex",
}
"""Stand in every response. None of CORS's headers is ever sent: no page of another origin may read anything."""


def refuse_head(method: str, headers: Mapping[str, str], hosts: Sequence[str], port: int) -> Response | None:
    """The refusal of a request by its head alone, or None. `headers` by name in small letters; `hosts` are all Host headers."""
    if len(hosts) != 1 or hosts[0].lower() not in _addresses(port):
        return plain(HTTPStatus.MISDIRECTED_REQUEST, "This server answers only to its own address.")
    if method not in ("GET", "HEAD", "POST"):
        return Response(HTTPStatus.METHOD_NOT_ALLOWED, {"Allow": "GET, HEAD, POST"})
    if method == "POST":
        return _refuse_post(headers)
    fetched = headers.get("sec-fetch-site", "same-origin")
    if fetched not in ("same-origin", "none") and headers.get("sec-fetch-mode") != "navigate":
        return plain(HTTPStatus.FORBIDDEN, "This may be read only from pages of this server.")
    return None


def refuse_token(request: Request, token: str) -> Response | None:
    """The refusal of a post that lacks the token of this run, or None.

    403 is for one that can be read otherwise: where it is a form of the desk, the form is shown again instead of this text.
    """
    if request.method != "POST":
        return None
    given = request.headers.get(TOKEN_HEADER, "")
    if not given:
        try:
            given = request.form().get(TOKEN_FIELD)
        except FormError as error:
            return plain(HTTPStatus.BAD_REQUEST, str(error))
    if hmac.compare_digest(given.encode(), token.encode()):
        return None
    return plain(
        HTTPStatus.FORBIDDEN,
        "This page is of an earlier run of the preview. Nothing was done. Load the page again.",
    )


def clean_path(raw: str) -> str | None:
    """A request's path, decoded; None when it holds what no address of ours does."""
    path = raw.partition("?")[0].partition("#")[0]
    try:
        decoded = unquote_to_bytes(path).decode("utf-8")
    except UnicodeDecodeError:
        return None
    if not decoded.startswith("/") or "\\" in decoded or "//" in decoded:
        return None
    if any(part in (".", "..") for part in decoded.split("/")):
        return None
    return None if any(ord(letter) < 32 or ord(letter) == 127 for letter in decoded) else decoded


def protected(headers: Mapping[str, str]) -> dict[str, str]:
    """A response's headers with those that protect; what the response says itself wins."""
    named = {name.lower() for name in headers}
    return {name: value for name, value in HEADERS.items() if name.lower() not in named} | dict(headers)


def _addresses(port: int) -> set[str]:
    return {f"{name}:{port}" for name in NAMES} | (set(NAMES) if port == 80 else set())


def _refuse_post(headers: Mapping[str, str]) -> Response | None:
    origin = headers.get("origin")
    if origin is None:
        is_ours = headers.get("sec-fetch-site") == "same-origin"
    else:
        # Of the name that was asked for: the other one is another origin.
        is_ours = origin.lower() == f"http://{headers.get('host', '').lower()}"
    if not is_ours or headers.get("sec-fetch-site", "same-origin") != "same-origin":
        return plain(HTTPStatus.FORBIDDEN, "Forms are taken only from pages of this server.")
    length = headers.get("content-length", "")
    if "transfer-encoding" in headers or not (length.isascii() and length.isdigit()):
        return plain(HTTPStatus.LENGTH_REQUIRED, "A post must say how long it is.")
    if int(length) > MOST_BODY_BYTES:
        return plain(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "That is more than a form may hold.")
    return None
