"""XML from elsewhere: read without document types, entities or a network, and not nested without end."""

from typing import Any

from lxml import etree

from steelyard.errors import InputRefused
from steelyard.paper.dcc.elements import DCC
from steelyard.records import LARGEST_BYTES

Element = etree._Element
DEEPEST = 64
"""Certificates nest some twenty elements. [elements]"""
ROOT = f"{{{DCC}}}digitalCalibrationCertificate"


class Careful:
    """What a parser tells; builds the tree, refuses a document type before it is read, and a deep nest."""

    def __init__(self, field: str, name: str) -> None:
        self._field, self._name = field, name
        self._builder = etree.TreeBuilder()
        self._depth = 0
        self._is_whole = False

    def doctype(self, *_: str | None) -> None:
        """A document type begins. Raises InputRefused."""
        raise InputRefused(self._field, self._name, "want-dcc-plain")

    def start(self, tag: str | bytes, attrib: dict[Any, Any]) -> None:
        """An element begins. Raises InputRefused where it lies too deep."""
        self._depth += 1
        if self._depth > DEEPEST:
            raise InputRefused(self._field, self._name, "want-dcc-flat", most=DEEPEST)
        self._builder.start(tag, dict(attrib))

    def end(self, tag: str | bytes) -> None:
        """It ends."""
        self._depth -= 1
        self._is_whole = self._depth == 0
        self._builder.end(tag)

    def data(self, data: str | bytes) -> None:
        """Text within it."""
        self._builder.data(data)

    def comment(self, text: str | bytes) -> None:
        """A comment says nothing here."""

    def close(self) -> Element | None:
        """The whole tree; None where it broke off, so that what it broke off with is raised."""
        return self._builder.close() if self._is_whole else None


def certificate(content: bytes, field: str, name: str) -> Element:
    """The outermost element of a certificate of version 3.

    field: where the file was given; name: its own. Raises InputRefused: too large, no XML, a document type,
    nested too deep, no certificate, or one of another version.
    """
    if len(content) > LARGEST_BYTES:
        raise InputRefused(field, name, "want-smaller-file")
    parser = etree.XMLParser(
        target=Careful(field, name), resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False
    )
    try:
        root: Element = etree.fromstring(content, parser)
    except etree.XMLSyntaxError as trouble:
        raise InputRefused(field, name, "want-dcc-xml", reason=trouble.msg) from None
    if root.tag != ROOT:
        raise InputRefused(field, name, "want-dcc")
    version = root.get("schemaVersion", "")
    if not version.startswith("3."):
        raise InputRefused(field, version or name, "want-dcc-version")
    return root
