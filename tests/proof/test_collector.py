"""The collector of garbage rests while pages are proofed, and works as before afterwards."""

from __future__ import annotations

import gc

import pytest

from sitegen.proof.collector import seldom_collecting


@pytest.fixture(autouse=True)
def nothing_frozen() -> None:
    """Earlier tests of this process may have left what the desk froze."""
    gc.unfreeze()


def test_what_was_there_before_is_not_searched_meanwhile() -> None:
    before = gc.get_threshold()
    with seldom_collecting():
        assert gc.get_freeze_count() > 0
        assert gc.get_threshold()[0] > before[0]
        assert gc.isenabled()
    assert gc.get_threshold() == before
    assert gc.get_freeze_count() == 0


def test_all_is_as_before_after_an_error_too() -> None:
    before = gc.get_threshold()
    with pytest.raises(ValueError, match="x"), seldom_collecting():
        raise ValueError("x")
    assert gc.get_threshold() == before
    assert gc.get_freeze_count() == 0


def test_one_inside_another_leaves_the_outer_one_at_work() -> None:
    before = gc.get_threshold()
    with seldom_collecting():
        meanwhile = gc.get_threshold()
        with seldom_collecting():
            assert gc.get_threshold() == meanwhile
        assert gc.get_threshold() == meanwhile
        assert gc.get_freeze_count() > 0
    assert gc.get_threshold() == before


def test_where_it_rests_altogether_it_works_meanwhile_and_rests_again() -> None:
    gc.disable()
    try:
        with seldom_collecting():
            assert gc.isenabled() and gc.get_freeze_count() > 0
        assert not gc.isenabled()
        gc.freeze()
        before = gc.get_freeze_count()
        made = [[number] for number in range(5000)]
        with seldom_collecting():
            assert gc.get_freeze_count() >= before + len(made)
    finally:
        gc.unfreeze()
        gc.enable()


def test_what_somebody_else_froze_stays_frozen() -> None:
    gc.freeze()
    try:
        with seldom_collecting():
            pass
        assert gc.get_freeze_count() > 0
    finally:
        gc.unfreeze()


def test_what_refers_to_itself_is_still_let_go() -> None:
    class Ring:
        other: Ring

    with seldom_collecting():
        for _ in range(200_000):
            one = Ring()
            one.other = one
        del one
        assert sum(isinstance(each, Ring) for each in gc.get_objects()) < 100_000
