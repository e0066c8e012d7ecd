"""Numbers that are printed with the decimal mark and the minus of the reader."""

import re

POINT_IN_A_NUMBER = re.compile(r"(?<![\d.])(\d+)\.(\d+)(?!\.?\d)")


class Marked(float):
    """A number that is printed with the decimal mark of the reader."""

    mark = "."

    def __format__(self, spec: str) -> str:
        return super().__format__(spec).replace("-", "−").replace(".", self.mark)

    def __abs__(self) -> "Marked":
        return type(self)(super().__abs__())


class Commaed(Marked):
    """The same with a comma."""

    mark = ","


def marked(value: float, mark: str) -> float:
    """A number that is printed with a decimal mark."""
    return Commaed(value) if mark == "," else Marked(value)


def marked_text(text: str, mark: str) -> str:
    """A text whose decimal points are the mark of the reader; what has two of them is no number."""
    return text if mark == "." else POINT_IN_A_NUMBER.sub(rf"\1{mark}\2", text)
