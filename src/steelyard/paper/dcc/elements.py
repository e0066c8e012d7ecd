"""Elements of a Digital Calibration Certificate, and texts fit to stand in them."""

from typing import Any

from lxml import etree

DCC, SI = "https://ptb.de/dcc", "https://ptb.de/si"
LANGUAGE = "en"
OWN = "steelyard-"
"""How the identifier of every certificate begins that is written here."""
Element = etree._Element


def put(parent: Element, tag: str, text: str | None = None, **attributes: str) -> Element:
    """A new element of the DCC at the end of another."""
    return _put(parent, f"{{{DCC}}}{tag}", text, attributes)


def put_si(parent: Element, tag: str, text: str | None = None) -> Element:
    """The same of the D-SI."""
    return _put(parent, f"{{{SI}}}{tag}", text, {})


def _put(parent: Element, name: str, text: str | None, attributes: dict[str, Any]) -> Element:
    element = etree.SubElement(parent, name, attributes)
    if text is not None:
        element.text = plain(text)
    return element


def say_in(parent: Element, tag: str, *texts: str, **attributes: str) -> Element:
    """An element with texts in English, such as a name or a description."""
    element = put(parent, tag, **attributes)
    for text in texts:
        put(element, "content", text, lang=LANGUAGE)
    return element


def identify(parent: Element, issuer: str, value: str, name: str) -> None:
    """One identification. value: on one line, not empty."""
    identification = put(parent, "identification")
    put(identification, "issuer", issuer)
    put(identification, "value", one_line(value))
    say_in(identification, "name", name)


def plain(text: str) -> str:
    """A text of the characters XML can hold; any other is shown by its number.

    Source: Extensible Markup Language (XML) 1.0, production [2] Char.
    """
    return "".join(c if _is_character(ord(c)) else f"\\u{ord(c):04x}" for c in text)


def _is_character(code: int) -> bool:
    return code in (0x9, 0xA, 0xD) or 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or code >= 0x10000


def one_line(text: str) -> str:
    """The same on one line without outer blanks, as identifiers have to be; never empty."""
    return " ".join(plain(text).split()) or "-"
