"""Quick questions about torque, adapters, hung loads, gravity and scales: one function for each."""

from steelyard.desk.answer import Answer
from steelyard.desk.hung_question import HungQuestion
from steelyard.desk.reckon_adapter import reckon_adapter, reckon_insert
from steelyard.desk.reckon_place import reckon_gravity
from steelyard.desk.reckon_scale import reckon_mass, reckon_water
from steelyard.desk.reckon_torque import reckon_torque
from steelyard.desk.reckon_weight import reckon_hung

__all__ = [
    "Answer",
    "HungQuestion",
    "reckon_adapter",
    "reckon_gravity",
    "reckon_hung",
    "reckon_insert",
    "reckon_mass",
    "reckon_torque",
    "reckon_water",
]
