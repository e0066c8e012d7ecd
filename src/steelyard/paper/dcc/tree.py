"""XML that is only written: elements put into each other, then a text with one element to a line.

A parser's tree costs many times as much, and a certificate goes into every record that is printed.
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from xml.sax.saxutils import escape

INDENT = "  "
HEAD = "<?xml version='1.0' encoding='UTF-8'?>\n"
KEPT = {"\r": "&#13;"}
KEPT_IN_QUOTES = {'"': "&quot;", "\t": "&#9;", "\n": "&#10;", **KEPT}
"""What a parser would read back as another character. Source: XML 1.0, 2.11 and 3.3.3."""


class Element:
    """An element with a text or with others inside it, never with both.

    tag: with its namespace, `{https://ptb.de/dcc}name`, as the names of its attributes where they have one.
    text: None where it is empty.
    """

    __slots__ = ("attributes", "inside", "tag", "text")

    def __init__(self, tag: str, text: str | None, attributes: Mapping[str, str]) -> None:
        self.tag, self.text, self.attributes = tag, text, attributes
        self.inside: list[Element] | tuple[()] = ()

    def __len__(self) -> int:
        return len(self.inside)

    def add(self, element: "Element") -> None:
        """Put one more at the end. Most elements hold none: a list is made for the first."""
        if self.inside:
            self.inside.append(element)
        else:
            self.inside = [element]

    def iter(self, *tags: str) -> Iterator["Element"]:
        """The element and all in it that have one of the tags, in the order they are written."""
        ahead = [self]
        while ahead:
            one = ahead.pop()
            if one.tag in tags:
                yield one
            if one.inside:
                ahead += reversed(one.inside)


def written(root: Element, prefixes: Mapping[str, str]) -> bytes:
    """The document in UTF-8. prefixes: namespace by its prefix."""
    declared = "".join(f' xmlns:{prefix}="{escape(space)}"' for prefix, space in prefixes.items())
    writing = _Writing(prefixes)
    writing.write(root, "", declared=declared)
    return "".join([HEAD, *writing.lines]).encode()


@lru_cache(maxsize=256)
def _quoted(value: str) -> str:
    """The value of an attribute; few of them differ."""
    return f'"{escape(value, KEPT_IN_QUOTES)}"'


def _escaped(text: str) -> str:
    return escape(text, KEPT) if "&" in text or "<" in text or ">" in text or "\r" in text else text


class _Writing:
    """What is written so far, line by line. names: with their prefix, by names with their namespace."""

    def __init__(self, prefixes: Mapping[str, str]) -> None:
        self.lines: list[str] = []
        self.names: dict[str, str] = {}
        self._prefixes = {space: prefix for prefix, space in prefixes.items()}

    def write(self, element: Element, indent: str, *, declared: str = "") -> None:
        """One element with all in it. declared: what stands in its tag before its attributes."""
        name, text = self._name(element.tag), element.text
        begun = f"{indent}<{name}{declared}"
        for key, value in element.attributes.items():
            begun += f" {self._name(key)}={_quoted(value)}"
        if element.inside:
            self.lines.append(f"{begun}>\n")
            for one in element.inside:
                self.write(one, indent + INDENT)
            self.lines.append(f"{indent}</{name}>\n")
        else:
            self.lines.append(f"{begun}/>\n" if text is None else f"{begun}>{_escaped(text)}</{name}>\n")

    def _name(self, name: str) -> str:
        written = self.names.get(name)
        if written is None:
            space, brace, local = name.removeprefix("{").partition("}")
            written = self.names[name] = f"{self._prefixes[space]}:{local}" if brace else name
        return written
