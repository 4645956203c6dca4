"""What the tests of the checks share."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sitegen.proof.pagecheck import check_page

Verdicts = Callable[..., dict[str, str]]


@pytest.fixture
def verdicts() -> Verdicts:
    """Proofs a body and gives the verdict of each check that found something; "fails" where one found both."""

    def proof(body: str, head: str = "<title>t</title>", html: str = ' lang="en"') -> dict[str, str]:
        source = f"<!doctype html>\n<html{html}>\n<head>{head}</head>\n<body>{body}</body>\n</html>"
        found: dict[str, str] = {}
        for finding in check_page("a.html", source.encode()).findings:
            if found.get(finding.check) != "fails":
                found[finding.check] = finding.verdict
        return found

    return proof
