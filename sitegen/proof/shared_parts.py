"""Knows the parts of pages that were read before: elements that begin and end with whole lines of their source.

A part is known by its lines and by the element it stands in, which is all that decides how the strict reader reads it. What
is kept is bounded: when half of the room is taken the other half is emptied, and what is met again until that happens the next
time moves over. So what pages go on sharing stays, and what one page alone had goes.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, TypeAlias

from sitegen.proof.document import Element, Part, Shape

_MOST_LINES_KEPT: Final = 80_000
_MOST_MET: Final = 50_000
_MOST_ELEMENTS: Final = 80_000
_MOST_A_PAGE: Final = 60
"""Parts learnt from one page."""
_MOST_ALIKE: Final = 8
"""Parts made of one shape; more of them on one page are read anew."""
LEAST_ELEMENTS: Final = 4
"""Smaller parts are read anew as fast as they are found."""
_MOST_LINES: Final = 128
"""Longer parts seldom come again, and finding them would cost more than it saves."""


class _Step:
    """Lines that are read one after the other: one by which it is found, and those that always follow it."""

    __slots__ = ("following", "run", "shapes")

    def __init__(self, run: list[bytes]) -> None:
        self.run = run
        """The lines after the first."""
        # Most steps end a part and lead no further: dictionaries of their own would cost more than all the rest.
        self.following: dict[bytes, _Step] | None = None
        """The steps after it, by their first lines."""
        self.shapes: dict[str, Shape] | None = None
        """Parts that end here, by the name of the element they stand in."""


_Steps: TypeAlias = dict[bytes, _Step]


class SharedParts:
    """The parts known at present."""

    __slots__ = ("_elements", "_left", "_lines", "_met", "_older_sizes", "beginning", "older")

    def __init__(self) -> None:
        self.beginning: _Steps = {}
        """By the first line of a part, the way to its others."""
        self.older: _Steps = {}
        """The same of parts that nobody met since room was made."""
        self._met: set[int] = set()
        self._left = _MOST_A_PAGE
        self._lines = 0
        self._elements = 0
        self._older_sizes = 0, 0

    @property
    def size(self) -> tuple[int, int, int]:
        """How many lines, elements and parts met once are kept."""
        lines, elements = self._older_sizes
        return self._lines + lines, self._elements + elements, len(self._met)

    @property
    def _is_full(self) -> bool:
        return self._lines > _MOST_LINES_KEPT // 2 or self._elements > _MOST_ELEMENTS // 2

    def begin_page(self) -> None:
        """To be called before each page: room is made now and then, and no page takes all of it."""
        self._left = _MOST_A_PAGE
        if self._is_full:
            _drop(self.older)
            self.older, self._older_sizes = self.beginning, (self._lines, self._elements)
            self.beginning, self._lines, self._elements = {}, 0, 0

    def find(self, lines: Sequence[bytes], first: int, outside: str) -> tuple[Shape, int] | None:
        """The longest known part that begins with a line and stands in an element of this name, with its last line's number."""
        has_room = not self._is_full
        found = _longest(self.beginning, lines, first, outside, has_room)
        if lines[first] in self.older:
            before = _longest(self.older, lines, first, outside, has_room)
            if before is not None and (found is None or before[1] > found[1]):
                found = before
                self._keep(lines[first : before[1] + 1], outside, before[0])
        return found

    def begins(self, lines: Sequence[bytes], first: int) -> bool:
        """Whether a known part begins with a line, in whichever element it may stand."""
        return _is_whole(self.beginning, lines, first) or _is_whole(self.older, lines, first)

    def _keep(self, lines: Sequence[bytes], outside: str, shape: Shape) -> None:
        """Let a part of old move over to those that stay."""
        step = self._way(lines)
        if step.shapes is None:
            step.shapes = {}
        if outside not in step.shapes:
            step.shapes[outside] = shape
            shape.is_kept = True
            self._elements += shape.made * shape.size

    def _way(self, lines: Sequence[bytes]) -> _Step:
        """The step to which some lines lead, made where it is not there yet."""
        steps, place, end = self.beginning, 0, len(lines)
        while True:
            first = lines[place]
            step = steps.get(first)
            if step is None:
                step = steps[first] = _Step(list(lines[place + 1 :]))
                self._lines += end - place
                return step
            place += 1
            run = step.run
            if lines[place : place + len(run)] != run:
                alike = 0
                while place + alike < end and lines[place + alike] == run[alike]:
                    alike += 1
                step = steps[first] = _parted(step, alike)
                run = step.run
            place += len(run)
            if place == end:
                return step
            if step.following is None:
                step.following = {}
            steps = step.following

    def learn(self, lines: Sequence[bytes], first: int, last: int, outside: str) -> None:
        """Take note of a part that was just read. Most are never met again, so it is the second meeting that counts."""
        if last - first >= _MOST_LINES or not self._left or self._is_full:
            return
        # Of two parts with one hash the second would be taken note of too early, which does no harm.
        met = hash((outside, *lines[first : last + 1]))
        if met not in self._met:
            if len(self._met) >= _MOST_MET:
                self._met.clear()
            self._met.add(met)
            return
        self._left -= 1
        step = self._way(lines[first : last + 1])
        if step.shapes is None:
            step.shapes = {outside: Shape()}
        elif outside not in step.shapes:
            step.shapes[outside] = Shape()

    def make(self, shape: Shape, elements: list[Element]) -> Part:
        """A part of elements just read; its page has it first."""
        self._elements += len(elements)
        return Part(shape, elements)


def _is_whole(steps: _Steps | None, lines: Sequence[bytes], number: int) -> bool:
    """Whether these lines lead through any of the steps to the end of a part."""
    end = len(lines)
    while steps is not None and number < end:
        step = steps.get(lines[number])
        if step is None:
            return False
        number += 1
        run = step.run
        if run:
            following = number + len(run)
            if lines[number:following] != run:
                return False
            number = following
        if step.shapes is not None:
            return True
        steps = step.following
    return False


def _longest(
    steps: _Steps | None, lines: Sequence[bytes], first: int, outside: str, has_room: bool
) -> tuple[Shape, int] | None:
    found: tuple[Shape, int] | None = None
    number, end = first, len(lines)
    while steps is not None and number < end:
        step = steps.get(lines[number])
        if step is None:
            break
        number += 1
        run = step.run
        if run:
            following = number + len(run)
            if lines[number:following] != run:
                break
            number = following
        if step.shapes is not None:
            shape = step.shapes.get(outside)
            if shape is not None and (shape.spare or (has_room and shape.made < _MOST_ALIKE)):
                found = shape, number - 1
        steps = step.following
    return found


def _parted(step: _Step, alike: int) -> _Step:
    """A step of so many of another's further lines, which leads to what remains of that one."""
    before = _Step(step.run[:alike])
    before.following = {step.run[alike]: step}
    step.run = step.run[alike + 1 :]
    return before


def _drop(steps: _Steps) -> None:
    """Let go of the parts that did not move over: others may still know their shapes."""
    waiting = [steps]
    while waiting:
        for step in waiting.pop().values():
            if step.following is not None:
                waiting.append(step.following)
            for shape in () if step.shapes is None else step.shapes.values():
                if shape.is_kept:
                    shape.is_kept = False
                else:
                    shape.spare.clear()
