"""The desk's own pages: small templates in the manner of the theme, set with the token and the desk's stylesheet."""

from __future__ import annotations

from functools import lru_cache
from http import HTTPStatus
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sitegen.desk.exchange import HTML, Response
from sitegen.desk.state import State

if TYPE_CHECKING:
    from jinja2 import Environment

FOLDER = Path(__file__).resolve().parent
HOME = "/_desk/"
ASSETS = "/_desk/assets/"


def page(state: State, template: str, status: HTTPStatus = HTTPStatus.OK, /, **context: Any) -> Response:
    """A page of the desk from a template that extends `frame.html`.

    The frame reads `title` from the context; every form of a template must hold `{{ token_field() }}`.
    """
    text = _environment().get_template(template).render(context, token=state.token)
    return Response(status, {"Content-Type": HTML}, text.encode() + b"\n")


@lru_cache(1)
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(FOLDER / "templates"),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals["asset"] = lambda name: ASSETS + name
    return environment
