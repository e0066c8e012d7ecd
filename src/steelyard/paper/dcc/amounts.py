"""Numbers with their units as elements of the D-SI; every number with the digits that were kept."""

from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.desk import in_unit
from steelyard.paper.dcc.elements import put, put_si, say_in
from steelyard.paper.dcc.tree import Element
from steelyard.paper.dcc.units import NEWTON_METRE, OTHER_TORQUES, SI_TORQUES
from steelyard.quantities import Dimension, read_quantity


@dataclass(frozen=True)
class Expanded:
    """An expanded uncertainty in the unit of its value. factor: k, at least 1. probability: such as 0.95."""

    value: float
    factor: str
    probability: float


def amount(parent: Element, name: str, kind: str | None = None, *, tag: str = "quantity") -> Element:
    """A named quantity, still without its value. kind: its refType."""
    attributes = {"refType": kind} if kind is not None else {}
    quantity = put(parent, tag, **attributes)
    say_in(quantity, "name", name)
    return quantity


def real(parent: Element, value: str | float, unit: str, expanded: Expanded | None = None) -> None:
    """One number."""
    element = put_si(parent, "real")
    put_si(element, "value", str(value))
    put_si(element, "unit", unit)
    if expanded is None:
        return
    stated = put_si(put_si(element, "measurementUncertaintyUnivariate"), "expandedMU")
    put_si(stated, "valueExpandedMU", str(expanded.value))
    put_si(stated, "coverageFactor", expanded.factor)
    put_si(stated, "coverageProbability", str(expanded.probability))


def reals(parent: Element, values: Sequence[float], unit: str) -> None:
    """Several numbers of one unit."""
    element = put_si(parent, "realListXMLList")
    put_si(element, "valueXMLList", " ".join(str(value) for value in values))
    put_si(element, "unitXMLList", unit)


def typed_torque(quantity: Element, text: str, field: str) -> str:
    """A torque as it was typed; returns the symbol of its unit. Outside the SI with newton metres first."""
    torque = read_quantity(text, Dimension.TORQUE, field=field)
    symbol = torque.unit.symbol
    if symbol in SI_TORQUES:
        real(quantity, str(torque.number), SI_TORQUES[symbol])
        return symbol
    both = put_si(quantity, "hybrid")
    real(both, torque.base, NEWTON_METRE)
    real(both, str(torque.number), OTHER_TORQUES[symbol])
    return symbol


def torque(quantity: Element, newton_metre: float, symbol: str) -> None:
    """A torque as it was kept, in newton metres; beside it in a unit outside the SI where that was meant."""
    if symbol in SI_TORQUES:
        real(quantity, newton_metre, NEWTON_METRE)
        return
    both = put_si(quantity, "hybrid")
    real(both, newton_metre, NEWTON_METRE)
    real(both, in_unit(newton_metre, symbol), OTHER_TORQUES[symbol])


def torques(quantity: Element, newton_metres: Sequence[float], symbol: str) -> None:
    """Several torques, likewise."""
    if symbol in SI_TORQUES:
        reals(quantity, newton_metres, NEWTON_METRE)
        return
    both = put_si(quantity, "hybrid")
    reals(both, newton_metres, NEWTON_METRE)
    reals(both, [in_unit(one, symbol) for one in newton_metres], OTHER_TORQUES[symbol])
