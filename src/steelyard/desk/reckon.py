"""Quick questions about torque, loads, scales, and settings of checked tools: one function for each."""

from steelyard.desk.answer import Answer
from steelyard.desk.hung_question import HungQuestion
from steelyard.desk.reckon_adapter import reckon_adapter, reckon_insert
from steelyard.desk.reckon_choose import reckon_choose
from steelyard.desk.reckon_combinations import reckon_combinations
from steelyard.desk.reckon_mass import reckon_mass
from steelyard.desk.reckon_pivot import reckon_pivot
from steelyard.desk.reckon_place import reckon_gravity
from steelyard.desk.reckon_scale import reckon_water
from steelyard.desk.reckon_set_to import reckon_set_to
from steelyard.desk.reckon_torque import reckon_torque
from steelyard.desk.reckon_weight import reckon_hung

__all__ = [
    "Answer",
    "HungQuestion",
    "reckon_adapter",
    "reckon_choose",
    "reckon_combinations",
    "reckon_gravity",
    "reckon_hung",
    "reckon_insert",
    "reckon_mass",
    "reckon_pivot",
    "reckon_set_to",
    "reckon_torque",
    "reckon_water",
]
