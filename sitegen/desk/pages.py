"""The desk's own pages: small templates in the manner of the theme, set with the token and the desk's stylesheet."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from http import HTTPStatus
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sitegen.desk.exchange import HTML, Response
from sitegen.desk.words import write_address

if TYPE_CHECKING:
    from jinja2 import Environment

    from sitegen.desk.state import State

FOLDER = Path(__file__).resolve().parent
HOME = "/_desk/"
ASSETS = "/_desk/assets/"


def page(state: State, template: str, status: HTTPStatus = HTTPStatus.OK, /, **context: Any) -> Response:
    """A page of the desk from a template that extends `frame.html`.

    The frame reads `title` from the context; every form that posts must hold `{{ token_field() }}`.
    """
    look = state.latest()
    text = set_template(template, **context, token=state.token, run=state.run, number=look.number)
    return Response(status, {"Content-Type": HTML}, text.encode() + b"\n")


def set_template(template: str, /, **context: Any) -> str:
    """A template of the desk, set."""
    return _environment().get_template(template).render(context)


@lru_cache(1)
def _environment() -> Environment:
    from jinja2 import FileSystemLoader, StrictUndefined

    from sitegen.typeset.compiled import environment_of

    folder = FOLDER / "templates"
    environment = environment_of(
        FileSystemLoader(folder),
        lambda name: folder / name,
        __file__,
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals["asset"] = lambda name: ASSETS + name
    write = writer()
    environment.globals["write"] = write
    environment.tests["editable"] = lambda path: bool(write(path))
    return environment


def writer() -> Callable[[str], str]:
    """A file's path -> the address at which it can be edited; empty where there is nobody to edit it."""
    from sitegen.desk.routes import ROUTES
    from sitegen.desk.words import WRITE

    is_there = any(address.startswith(WRITE) for _, address, _ in ROUTES)
    return write_address if is_there else lambda path: ""
