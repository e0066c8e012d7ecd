"""A sealed record as a Digital Calibration Certificate, put together."""

from collections.abc import Mapping, Sequence
from typing import Any

from steelyard.paper.dcc.administrative import administer
from steelyard.paper.dcc.elements import DCC, SI, put
from steelyard.paper.dcc.kept import MARK, view_of
from steelyard.paper.dcc.results import add_result
from steelyard.paper.dcc.statements import define_units, state
from steelyard.paper.dcc.tree import Element, written
from steelyard.paper.dcc.units import refuse_other_units, units_in
from steelyard.telling import record_points
from steelyard.telling.record_points import PhaseWords

SCHEMA = "3.3.0"
XSI = "http://www.w3.org/2001/XMLSchema-instance"
WHERE = f"{DCC} https://ptb.de/dcc/v{SCHEMA}/dcc.xsd"


def document(
    export: Mapping[str, Any], *, workshop: str, is_demo: bool, told: Sequence[PhaseWords] | None = None
) -> bytes:
    """The XML in UTF-8; arguments as in `dcc_of`."""
    view = view_of(export)
    attributes = {f"{{{XSI}}}schemaLocation": WHERE, "schemaVersion": SCHEMA}
    root = Element(f"{{{DCC}}}digitalCalibrationCertificate", None, attributes)
    data = put(root, "administrativeData")
    administer(data, view, workshop=workshop)
    statements = put(data, "statements")
    state(statements, view, is_demo=is_demo)
    phases = told if told is not None else record_points.phases(view, MARK)
    add_result(put(root, "measurementResults"), view, phases)
    units = set(units_in(root))
    refuse_other_units(units)
    define_units(statements, units)
    return written(root, {"dcc": DCC, "si": SI, "xsi": XSI})
