"""Bytes put aside: what is put is got, in any order, and a disk that refuses is told."""

from __future__ import annotations

import os
from pathlib import Path
from random import Random
from typing import Any

import pytest

from sitegen.site.errors import MachineError
from sitegen.site.heap import Heap


@pytest.mark.parametrize("on_disk", [True, False])
def test_what_was_put_is_got_in_any_order(tmp_path: Path, on_disk: bool) -> None:
    chance = Random(1)
    heap = Heap(tmp_path if on_disk else None)
    put: list[bytes] = []
    for _ in range(200):
        data = chance.randbytes(chance.choice((0, 1, 7, 5000)))
        assert heap.put(data) == len(put)
        put.append(data)
        number = chance.randrange(len(put))
        assert heap.get(number) == put[number]
    assert [heap.get(number) for number in range(200)] == put
    assert list(tmp_path.iterdir()) == []  # nobody else can touch it


def test_a_disk_that_writes_little_at_a_time_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write = os.write
    monkeypatch.setattr(os, "write", lambda file, data: write(file, data[:3]))
    heap = Heap(tmp_path)
    assert [heap.get(heap.put(data)) for data in (b"one after another", b"two")] == [
        b"one after another",
        b"two",
    ]


def test_a_full_disk_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*given: Any) -> int:
        raise OSError(28, "No space left on device")

    heap = Heap(tmp_path)
    heap.put(b"there")
    monkeypatch.setattr(os, "write", full)
    with pytest.raises(MachineError, match="No space left"):
        heap.put(b"more")
    with pytest.raises(MachineError):
        Heap(tmp_path / "gone").put(b"more")
