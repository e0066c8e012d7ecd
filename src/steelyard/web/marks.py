"""Numbers that are printed with the decimal mark and the minus of the reader."""


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
