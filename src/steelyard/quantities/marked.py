"""Numbers that read two ways, made to read one way by the decimal mark of who typed them."""

import re

from steelyard.quantities.number import APOSTROPHES, GAPS

DECIMAL_MARKS = ".,"
BEFORE_THREE = {
    mark: re.compile(
        rf"(?<![0-9.,])(?<![0-9][{GAPS}{APOSTROPHES}])(?P<number>[1-9][0-9]{{0,2}}{re.escape(mark)}[0-9]{{3}})"
        r"(?![0-9eE]|[.,][0-9])"
    )
    for mark in DECIMAL_MARKS
}
PADDED = re.compile(r"(?<![0-9.,])0(?P<number>[1-9][0-9]{0,2}[.,][0-9]{3})(?![0-9])")


def one_way(text: str, mark: str | None) -> str:
    """A text whose numbers read one way: `05,015` for `5,015` where the comma is the decimal mark.

    mark: of the person who typed it, point or comma; None leaves the text as it is.
    Behind a leading zero nobody sets thousands apart, and the digits that say how finely something was read
    stay. The other mark before three digits still reads two ways.
    """
    return BEFORE_THREE[mark].sub(r"0\g<number>", text) if mark is not None else text


def as_typed(text: str) -> str:
    """The text as it was before `one_way`, to be shown."""
    return PADDED.sub(r"\g<number>", text)
