"""Forms of the desk's pages as a browser fills them in and sends them: every control with what stands in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from urllib.parse import urlencode

from bs4 import BeautifulSoup, Tag

from tests.desk.running_desk import Answer, Desk

URLENCODED = "application/x-www-form-urlencoded"
EDGE = "----an-edge-between-parts"


@dataclass(slots=True)
class FilledForm:
    """A form of a page, to be changed and sent."""

    address: str
    fields: list[tuple[str, str]]
    files: list[tuple[str, str, str, bytes]] = field(default_factory=list)
    """(name of the field, name of the file, media type, bytes)."""

    def get(self, name: str) -> str:
        return next(text for key, text in self.fields if key == name)

    def names(self) -> list[str]:
        return [name for name, _ in self.fields]

    def put(self, name: str, text: str) -> None:
        """Changes a field that must be there."""
        number = next(number for number, (key, _) in enumerate(self.fields) if key == name)
        self.fields[number] = (name, text)

    def send(
        self, desk: Desk, do: str, address: str = "", headers: Mapping[str, str] | None = None
    ) -> Answer:
        """Presses the button whose value is `do`."""
        pairs = [*self.fields, ("do", do)]
        if not self.files:
            body, kind = urlencode(pairs).encode(), URLENCODED
        else:
            parts = [
                f'--{EDGE}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{text}\r\n'.encode()
                for name, text in pairs
            ]
            parts += [
                f'--{EDGE}\r\nContent-Disposition: form-data; name="{name}"; filename="{file}"\r\nContent-Type: {media}\r\n\r\n'.encode()
                + data
                + b"\r\n"
                for name, file, media, data in self.files
            ]
            body, kind = b"".join(parts) + f"--{EDGE}--\r\n".encode(), f"multipart/form-data; boundary={EDGE}"
        return desk.ask(address or self.address, "POST", {"Content-Type": kind, **(headers or {})}, body)


def form_in(text: str) -> FilledForm:
    """The form that posts in a page's HTML."""
    soup = BeautifulSoup(text, "html.parser")
    form = next(each for each in soup.find_all("form") if each.get("method") == "post")
    fields: list[tuple[str, str]] = []
    for control in form.find_all(["input", "textarea", "select"]):
        name = control.get("name")
        if not name or control.has_attr("disabled"):
            continue
        if control.name == "select":
            chosen = control.find("option", selected=True) or control.find("option")
            fields.append((str(name), str(chosen["value"]) if isinstance(chosen, Tag) else ""))
        elif control.name == "textarea":
            # HTML, 13.2.6.4.7: a line feed right behind the start tag is dropped. Sent with CRLF, as browsers do.
            fields.append((str(name), control.get_text().removeprefix("\n").replace("\n", "\r\n")))
        elif control.get("type") in ("checkbox", "radio"):
            if control.has_attr("checked"):
                fields.append((str(name), str(control.get("value"))))
        elif control.get("type") != "file":
            fields.append((str(name), str(control.get("value") or "")))
    return FilledForm(str(form["action"]), fields)


def opened(desk: Desk, path: str) -> FilledForm:
    """The form of the page of a file, such as `stories/2026/coats.md`."""
    answer = desk.ask(f"/_desk/write/{path}")
    assert answer.status == 200, answer.text
    return form_in(answer.text)
