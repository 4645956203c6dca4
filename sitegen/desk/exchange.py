"""What the desk's server takes and gives: requests, their forms, and responses, as records without a socket."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from http import HTTPStatus
from io import BytesIO
from typing import TYPE_CHECKING, TypeAlias
from urllib.parse import parse_qsl, quote

if TYPE_CHECKING:
    from sitegen.desk.state import State

MOST_BODY_BYTES = 48_000_000
"""Of one request: a picture of a good camera has under 30 MB (from memory)."""
MOST_FIELDS = 2000
MOST_FIELD_BYTES = 2_000_000
"""Of one field that is not a file; a story's text may have 1,000,000."""

ADDRESS_MARKS = "/:?#[]@!$&'()*+,;=%~"
"""What may stand in an address as it is (RFC 3986, 2.2), and the mark of what is encoded already."""

HTML = "text/html; charset=utf-8"


class FormError(ValueError):
    """A posted form that cannot be read, in plain words."""


@dataclass(frozen=True, slots=True)
class Upload:
    """A file that came with a form."""

    name: str
    """As the browser called it: never to be believed as a path."""
    media_type: str
    """As the browser called it: never to be believed."""
    data: bytes


@dataclass(frozen=True, slots=True)
class Form:
    """The fields of a posted form, in order; a name may stand more than once."""

    fields: tuple[tuple[str, str], ...] = ()
    files: tuple[tuple[str, Upload], ...] = ()

    def get(self, name: str, default: str = "") -> str:
        """The first field of a name."""
        return next((value for key, value in self.fields if key == name), default)

    def all(self, name: str) -> tuple[str, ...]:
        return tuple(value for key, value in self.fields if key == name)

    def file(self, name: str) -> Upload | None:
        """The first file of a name that was really chosen."""
        return next((each for key, each in self.files if key == name and (each.name or each.data)), None)


@dataclass(frozen=True, slots=True)
class Request:
    """One request, guarded already."""

    method: str
    """`GET` or `POST`; HEAD is answered as GET without the body."""
    path: str
    """Begins with a slash, percent-decoded, without query; holds no `..`, no control character, no backslash."""
    query: tuple[tuple[str, str], ...] = ()
    headers: Mapping[str, str] = field(default_factory=dict)
    """By name in small letters."""
    body: bytes = b""

    def asked(self, name: str, default: str = "") -> str:
        """The first value of a name in the query."""
        return next((value for key, value in self.query if key == name), default)

    def form(self) -> Form:
        """The posted form, url-encoded or multipart. Raises FormError."""
        return read_form(self.headers.get("content-type", ""), self.body)


@dataclass(frozen=True, slots=True)
class Response:
    status: HTTPStatus = HTTPStatus.OK
    headers: Mapping[str, str] = field(default_factory=dict)
    """What the guards add to every response stands in `guards.py`; a header named here wins."""
    body: bytes | Iterable[bytes] = b""
    """Pieces are sent one by one as they come, and the connection closed after the last."""


Handler: TypeAlias = "Callable[[Request, State], Response]"


def see_other(address: str) -> Response:
    """Leads a browser on, as after a form that was saved. The address may hold any letters."""
    return Response(HTTPStatus.SEE_OTHER, {"Location": quote(address, safe=ADDRESS_MARKS)})


def plain(status: HTTPStatus, text: str) -> Response:
    return Response(status, {"Content-Type": "text/plain; charset=utf-8"}, text.encode() + b"\n")


def read_form(content_type: str, body: bytes) -> Form:
    """A form as browsers post it. Raises FormError for any other body, or one with too many or too large parts."""
    kind = content_type.partition(";")[0].strip().lower()
    if kind == "application/x-www-form-urlencoded":
        try:
            pairs = parse_qsl(
                body.decode("ascii"),
                keep_blank_values=True,
                strict_parsing=bool(body),
                errors="strict",
                max_num_fields=MOST_FIELDS,
            )
        except ValueError as error:
            raise FormError("The form that was sent cannot be read.") from error
        return Form(tuple(pairs))
    if kind == "multipart/form-data":
        return _multipart(content_type, body)
    raise FormError("A form was expected here.")


def _multipart(content_type: str, body: bytes) -> Form:
    import multipart

    try:
        _, options = multipart.parse_options_header(content_type)
        parts = multipart.MultipartParser(
            BytesIO(body),
            options.get("boundary", ""),
            content_length=len(body),
            part_limit=MOST_FIELDS,
            spool_limit=MOST_BODY_BYTES,
            memory_limit=MOST_BODY_BYTES,
            partsize_limit=MOST_BODY_BYTES,
            strict=True,
        )
        fields: list[tuple[str, str]] = []
        files: list[tuple[str, Upload]] = []
        for part in parts:
            if part.filename is not None:
                files.append((part.name, Upload(part.filename, part.content_type or "", part.raw)))
            elif part.size > MOST_FIELD_BYTES:
                raise FormError("A field of the form that was sent is too long.")
            else:
                fields.append((part.name, part.raw.decode("utf-8")))
    except (multipart.MultipartError, UnicodeDecodeError, ValueError) as error:
        if isinstance(error, FormError):
            raise
        raise FormError("The form that was sent cannot be read.") from error
    return Form(tuple(fields), tuple(files))
