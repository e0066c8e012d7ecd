"""Quantities: torque, mass, length, angle and their kin; the unit table; reading what people type.

In: texts as typed, the dimension a field asks for, the field's name.
Out: `Quantity` (as typed, exact number, unit), `Unit`, `Decimal`; `Line`, one uncertain input of a model.
Refuses: a number without a unit, a unit it does not know, a number that reads two ways (`1,000`), `nm` and
`MNm` for a torque. It never guesses and never converts on a suspicion.
"""

from steelyard.quantities.find_unit import find_unit
from steelyard.quantities.marked import as_typed, one_way
from steelyard.quantities.number import read_number
from steelyard.quantities.quantity import Quantity
from steelyard.quantities.several import read_quantities
from steelyard.quantities.suspicion import wrong_unit_suspicion
from steelyard.quantities.table import UNITS
from steelyard.quantities.typed import read_quantity
from steelyard.quantities.uncertain import DIVISOR, KURTOSIS, Line, Shape
from steelyard.quantities.unit import Dimension, Unit
from steelyard.quantities.within import read_within

__all__ = [
    "DIVISOR",
    "KURTOSIS",
    "UNITS",
    "Dimension",
    "Line",
    "Quantity",
    "Shape",
    "Unit",
    "as_typed",
    "find_unit",
    "one_way",
    "read_number",
    "read_quantities",
    "read_quantity",
    "read_within",
    "wrong_unit_suspicion",
]
