"""The published schema of certificates, where a copy of it is."""

import os
from functools import cache
from pathlib import Path

import pytest
from lxml import etree

FOLDER = os.environ.get("STEELYARD_DCC_XSD", "")
HOW_TO = (
    "set STEELYARD_DCC_XSD to a folder with dcc.xsd 3.3.0 and its si/, qudt/ and d-sig/, published at "
    "ptb.de/dcc and ptb.de/si, imports by relative path"
)
needs_schema = pytest.mark.skipif(not FOLDER, reason=HOW_TO)


@cache
def _schema() -> etree.XMLSchema:
    return etree.XMLSchema(etree.parse(str(Path(FOLDER) / "dcc.xsd")))


def faults(content: bytes) -> list[str]:
    """What the schema says against a certificate."""
    schema = _schema()
    is_valid = schema.validate(etree.fromstring(content))
    return [] if is_valid else str(schema.error_log).splitlines()
