"""What checks of other things than colour keep of a node's styles."""

from __future__ import annotations

from typing import NamedTuple


class Facts(NamedTuple):
    """What is worked out once for a node, for all its elements on all pages."""

    rendered: int
    """Bit n says whether it is rendered in scenario n."""
    out_of_sight: int
    """Bit n says whether scenario n moves it off the screen, clips it to nothing or makes it transparent, by itself or from above."""
    is_sized: bool
    """Whether an author fixes its height or width in any scenario."""
    moves: str
    """How it may come to be seen out of its turn in any scenario: "inside" where it turns round what it holds, "alone", "in
    pairs" where it takes a neighbour that moves too, "" where it does not."""
    is_fixed: bool
    """Whether the winning declaration of a spacing of text is marked important in any scenario."""
    line: float
    """The least height of a line of its text in px, in any scenario on a screen; infinite where no author sized the text."""
    scrolls: bool
    """Whether it scrolls by itself in any scenario on a screen."""
    is_notable: bool
    """Whether there is anything here to look at for those who look for the unusual."""
