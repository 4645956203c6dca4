"""What the proof has learnt: left by whoever learnt most, kept whole, and never needed."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.proof.pagecheck import ContrastJudge, contrast_judge
from sitegen.site.proofkept import LEARNT_NAME, Learning, LearntShelf


class Stub(ContrastJudge):
    """A judge that has learnt as much as it is told to say."""

    def __init__(self) -> None:
        super().__init__(lambda path: None, "", False, b"")
        self.count = 0

    @property
    def news(self) -> int:
        return self.count

    def learnt(self) -> bytes | None:
        return b"*" * self.count


def test_it_is_told_when_it_is_worth_it_and_whenever_it_has_doubled(tmp_path: Path) -> None:
    judge = Stub()
    learning = Learning(judge, tmp_path)
    left: list[int] = []
    for count in (0, 199, 200, 399, 400, 401, 900):
        judge.count = count
        learning.look()
        left += [len(place.read_bytes()) for place in tmp_path.iterdir()] or [0]
    assert left == [0, 0, 200, 200, 400, 400, 900]


def test_the_one_that_learnt_most_is_kept(tmp_path: Path) -> None:
    spool = tmp_path / "spool"
    spool.mkdir()
    shelf = LearntShelf(tmp_path, "ground")
    shelf.keep_of(spool)
    assert shelf.take() == b"" and not (tmp_path / LEARNT_NAME).exists()
    (spool / "learnt-1").write_bytes(b"little")
    (spool / "learnt-2").write_bytes(b"a good deal")
    (spool / "1-1").write_bytes(b"a page, and longer than both")
    shelf.keep_of(spool)
    assert LearntShelf(tmp_path, "ground").take() == b"a good deal"


@pytest.mark.parametrize(("ground", "fresh"), [("other", False), ("ground", True)])
def test_nothing_is_believed_of_another_program_or_for_a_fresh_build(
    tmp_path: Path, ground: str, fresh: bool
) -> None:
    spool = tmp_path / "spool"
    spool.mkdir()
    (spool / "learnt-1").write_bytes(b"little")
    LearntShelf(tmp_path, "ground").keep_of(spool)
    assert LearntShelf(tmp_path, ground, fresh).take() == b""


def test_damage_is_not_believed(tmp_path: Path) -> None:
    spool = tmp_path / "spool"
    spool.mkdir()
    (spool / "learnt-1").write_bytes(b"little")
    LearntShelf(tmp_path, "ground").keep_of(spool)
    place = tmp_path / LEARNT_NAME
    place.write_bytes(place.read_bytes()[:-1] + b"?")
    assert LearntShelf(tmp_path, "ground").take() == b""
    assert contrast_judge(lambda path: None, learnt=b"nothing of the kind").learnt() is None
