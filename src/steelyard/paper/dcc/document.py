"""A sealed record as a Digital Calibration Certificate, put together."""

from collections.abc import Mapping
from typing import Any

from lxml import etree

from steelyard.paper.dcc.administrative import administer
from steelyard.paper.dcc.elements import DCC, SI, put
from steelyard.paper.dcc.kept import view_of
from steelyard.paper.dcc.results import add_result
from steelyard.paper.dcc.statements import define_units, state
from steelyard.paper.dcc.units import refuse_other_units

SCHEMA = "3.3.0"
XSI = "http://www.w3.org/2001/XMLSchema-instance"
WHERE = f"{DCC} https://ptb.de/dcc/v{SCHEMA}/dcc.xsd"


def document(export: Mapping[str, Any], *, workshop: str, is_demo: bool) -> bytes:
    """The XML in UTF-8; arguments as in `dcc_of`."""
    view = view_of(export)
    attributes: dict[Any, Any] = {f"{{{XSI}}}schemaLocation": WHERE, "schemaVersion": SCHEMA}
    root = etree.Element(
        f"{{{DCC}}}digitalCalibrationCertificate", attributes, nsmap={"dcc": DCC, "si": SI, "xsi": XSI}
    )
    data = put(root, "administrativeData")
    administer(data, view, workshop=workshop)
    statements = put(data, "statements")
    state(statements, view, is_demo=is_demo)
    add_result(put(root, "measurementResults"), view)
    define_units(statements, root)
    refuse_other_units(root)
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True)
