"""Elements of a Digital Calibration Certificate, and texts fit to stand in them."""

import re

from steelyard.paper.dcc.tree import Element

DCC, SI = "https://ptb.de/dcc", "https://ptb.de/si"
LANGUAGE = "en"
CONTENT, IN_ENGLISH = f"{{{DCC}}}content", {"lang": LANGUAGE}
OWN = "steelyard-"
"""How the identifier of every certificate begins that is written here."""
NO_CHARACTER = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Source: Extensible Markup Language (XML) 1.0, production [2] Char."""


def put(parent: Element, tag: str, text: str | None = None, **attributes: str) -> Element:
    """A new element of the DCC at the end of another."""
    return _put(parent, f"{{{DCC}}}{tag}", text, attributes)


def put_si(parent: Element, tag: str, text: str | None = None) -> Element:
    """The same of the D-SI."""
    return _put(parent, f"{{{SI}}}{tag}", text, {})


def _put(parent: Element, tag: str, text: str | None, attributes: dict[str, str]) -> Element:
    element = Element(tag, None if text is None else plain(text), attributes)
    parent.add(element)
    return element


def say_in(parent: Element, tag: str, *texts: str, **attributes: str) -> Element:
    """An element with texts in English, such as a name or a description."""
    element = put(parent, tag, **attributes)
    element.inside = [Element(CONTENT, plain(text), IN_ENGLISH) for text in texts]
    return element


def identify(parent: Element, issuer: str, value: str, name: str) -> None:
    """One identification. value: on one line, not empty."""
    identification = put(parent, "identification")
    put(identification, "issuer", issuer)
    put(identification, "value", one_line(value))
    say_in(identification, "name", name)


def plain(text: str) -> str:
    """A text of the characters XML can hold; any other is shown by its number."""
    return text if text.isprintable() else NO_CHARACTER.sub(lambda found: f"\\u{ord(found[0]):04x}", text)


def one_line(text: str) -> str:
    """The same on one line without outer blanks, as identifiers have to be; never empty."""
    return " ".join(plain(text).split()) or "-"
