"""Numbers as they are read in a chart, and how much room a text takes."""

from decimal import Decimal

MINUS = "−"
LETTER_RATIO = 0.6  # width of a letter to its height; wide of the truth for most fonts
FONT = 14.0
PERCENT_PLACES = 2


def plain(value: float, mark: str = ".", *, digits: int = 6) -> str:
    """A number with at most so many significant digits, no trailing zeros, no power of ten."""
    text = f"{Decimal(f'{value:.{digits}g}'):f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", MINUS).replace(".", mark)


def signed(value: float, mark: str = ".", *, places: int = PERCENT_PLACES) -> str:
    """A number with its sign; zero has none."""
    text = f"{value:+.{places}f}"
    if float(text) == 0:
        text = text[1:]
    return text.replace("-", MINUS).replace(".", mark)


def unsigned(value: float, mark: str = ".", *, places: int = PERCENT_PLACES) -> str:
    """A size."""
    return f"{value:.{places}f}".replace("-", MINUS).replace(".", mark)


def room(text: str, font: float = FONT) -> float:
    """Width a line of text is given."""
    return len(text) * font * LETTER_RATIO


def wrapped(text: str, width: float, *, most: int) -> tuple[str, ...]:
    """The text in at most so many lines of a width; what is left over ends in an ellipsis."""
    letters = max(2, int(width / (FONT * LETTER_RATIO)))
    lines: list[str] = [""]
    for word in text.split():
        joined = f"{lines[-1]} {word}".strip()
        if len(joined) <= letters or not lines[-1]:
            lines[-1] = joined
        else:
            lines.append(word)
    kept = lines[:most]
    if len(lines) > most:
        kept[-1] += " …"
    return tuple(one if len(one) <= letters else one[: letters - 1].rstrip() + "…" for one in kept)


def apart(places: list[tuple[float, str]]) -> list[tuple[float, str]]:
    """Of labels centred at rising places those that do not touch: the first, the last, what fits between."""
    if len(places) < 2:
        return places
    kept, last = [places[0]], places[-1]
    for label in places[1:-1]:
        if _clear(kept[-1], label) and _clear(label, last):
            kept.append(label)
    return [*kept, last] if _clear(kept[-1], last) else kept


def _clear(one: tuple[float, str], other: tuple[float, str]) -> bool:
    return other[0] - one[0] >= (room(one[1]) + room(other[1])) / 2 + FONT / 2
