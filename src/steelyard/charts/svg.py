"""Elements of a picture as text: escaped, rounded, classes in place of styles."""

import re
from collections.abc import Iterable
from functools import lru_cache
from xml.sax.saxutils import escape, quoteattr

from steelyard.charts.palette import PALETTE

WRITTEN = "%.2f"  # of a coordinate
ILLEGAL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
"""What XML 1.0 has no place for. Source: XML 1.0, fifth edition, 2.2 (from memory)."""


def coordinate(value: float) -> str:
    """A length as written: at most two decimals, no trailing zeros, never −0."""
    text = (WRITTEN % value).rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def legal(text: str) -> str:
    """The text without the characters that XML cannot hold."""
    return text if text.isprintable() else ILLEGAL.sub("", text)


def tag(name: str, /, *inside: str, css: str = "", **attributes: str | float) -> str:
    """One element.

    inside: elements, already written. css: classes, each of the palette; attributes: `_` stands for `-`.
    Raises KeyError for a class that the palette does not have.
    """
    written = _of_classes(css)
    if attributes:
        written = written | {_spelled(key): _quoted(value) for key, value in attributes.items()}
    opening = " ".join([name, *(f"{key}={quoted}" for key, quoted in written.items())])
    return f"<{opening}>{''.join(inside)}</{name}>" if inside else f"<{opening}/>"


@lru_cache(maxsize=256)
def _of_classes(css: str) -> dict[str, str]:
    """Attributes of classes with their values, quoted."""
    written: dict[str, str] = {"class": css} if css else {}
    for one in css.split():
        written |= PALETTE[one]
    return {key: quoteattr(legal(value)) for key, value in written.items()}


@lru_cache(maxsize=256)
def _spelled(key: str) -> str:
    return key.replace("_", "-")


def _quoted(value: str | float) -> str:
    return quoteattr(legal(value)) if isinstance(value, str) else f'"{coordinate(value)}"'


def group(*inside: str, css: str = "") -> str:
    """Elements that belong together."""
    return tag("g", *inside, css=css)


def text(said: str, x: float, y: float, *, anchor: str = "start", css: str = "ch-text") -> str:
    """A line of text. y: of its base line. anchor: start, middle or end."""
    return tag("text", escape(legal(said)), css=css, x=x, y=y, text_anchor=anchor)


def line(x1: float, y1: float, x2: float, y2: float, *, css: str) -> str:
    """A straight line."""
    return tag("line", css=css, x1=x1, y1=y1, x2=x2, y2=y2)


def box(x: float, y: float, width: float, height: float, *, css: str, round_by: float = 0) -> str:
    """A rectangle, its corners rounded."""
    rounded = {"rx": round_by} if round_by else {}
    return tag("rect", css=css, x=x, y=y, width=width, height=height, **rounded)


def disc(x: float, y: float, radius: float, *, css: str) -> str:
    """A circle."""
    return tag("circle", css=css, cx=x, cy=y, r=radius)


def path(steps: str, *, css: str, at: tuple[float, float] = (0, 0), size: float = 1) -> str:
    """A path of absolute steps, letters and `x,y` pairs with blanks between, moved and enlarged."""
    return tag("path", css=css, d=" ".join(_placed(step, at, size) for step in _steps(steps)))


@lru_cache(maxsize=64)
def _steps(steps: str) -> tuple[str | tuple[float, float], ...]:
    """Letters and pairs; most shapes are drawn again and again."""
    cut = (step.partition(",") for step in steps.split())
    return tuple((float(x), float(y)) if comma else x for x, comma, y in cut)


def _placed(step: str | tuple[float, float], at: tuple[float, float], size: float) -> str:
    if isinstance(step, str):
        return step
    return f"{coordinate(at[0] + size * step[0])},{coordinate(at[1] + size * step[1])}"


def joined(points: Iterable[tuple[float, float]], *, closed: bool = False) -> str:
    """Steps of a path through points."""
    return "M " + " L ".join(f"{x!r},{y!r}" for x, y in points) + (" Z" if closed else "")


def picture(*inside: str, size: tuple[float, float], title: str, summary: str, css: str = "ch-chart") -> str:
    """The whole picture.

    size: width and height of the view box. title: short, shown by a pointer; summary: what is read out.
    """
    width, height = map(coordinate, size)
    return tag(
        "svg",
        tag("title", escape(legal(title))),
        *inside,
        css=css,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {width} {height}",
        role="img",
        aria_label=summary,
    )
