"""The ids that reports list for the contrast engine are the engine's own."""

from sitegen.proof.checks import BY_CONTRAST
from sitegen.proof.contrast.engine import CHECKS


def test_reports_list_what_the_engine_decides() -> None:
    assert set(BY_CONTRAST) == {act for rule in CHECKS for act in rule.act}
