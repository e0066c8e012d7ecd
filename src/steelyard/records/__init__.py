"""Checks as written and as judged: the check form, entries and their fold, the content of a record.

In: bytes of a form; what happened, as drafts; results of an evaluation. Out: `CheckForm`; chained entries;
documents folded from them, of JSON types only.
Refuses: unknown fields and kinds, missing units and limits, anything it would have to guess.
"""

from steelyard.records.check_form import (
    LARGEST_BYTES,
    CheckForm,
    Variation,
    form_table,
    read_check,
    read_table,
)
from steelyard.records.check_table import (
    check_table,
    counted,
    is_complete,
    is_enough,
    is_set_up,
    progress_of,
    pull_as_written,
    pulls_by_point,
    standing_verdict,
)
from steelyard.records.entry import (
    BEFORE_THE_FIRST,
    Draft,
    Entry,
    Stamp,
    chain_breaks,
    day_there,
    digest_of,
    read_entry,
    write_entry,
)
from steelyard.records.fields import Fields
from steelyard.records.fold import fold, listing
from steelyard.records.fold_check import AS_FOUND, AS_LEFT
from steelyard.records.fold_rig import standing_weighing
from steelyard.records.fold_tool import CHECK_FIRST, UNCHECKED, tool_state
from steelyard.records.form_kit import read_kit
from steelyard.records.form_load import load_pieces, read_load, read_masses, read_scales
from steelyard.records.form_place import LATITUDE_EXAMPLE, Place, read_place
from steelyard.records.form_points import PointForm, PullForm, default_points
from steelyard.records.form_tool import read_limit, read_tool
from steelyard.records.form_turns import TurnForm
from steelyard.records.kinds import THE_WORKSHOP, Kind, Subject, subject_name, subject_sort
from steelyard.records.kit import HungKit, PaperFacts, TransducerKit, Weights
from steelyard.records.kit import Kit as KitForm
from steelyard.records.listing import WIDTH as KEY_WIDTH
from steelyard.records.listing import Listing
from steelyard.records.turn_size import MOST_TURNS, TURN_DEGREES, read_turns
from steelyard.records.turn_table import adjusted_table

__all__ = [
    "AS_FOUND",
    "AS_LEFT",
    "BEFORE_THE_FIRST",
    "CHECK_FIRST",
    "KEY_WIDTH",
    "LARGEST_BYTES",
    "LATITUDE_EXAMPLE",
    "MOST_TURNS",
    "THE_WORKSHOP",
    "TURN_DEGREES",
    "UNCHECKED",
    "CheckForm",
    "Draft",
    "Entry",
    "Fields",
    "HungKit",
    "Kind",
    "KitForm",
    "Listing",
    "PaperFacts",
    "Place",
    "PointForm",
    "PullForm",
    "Stamp",
    "Subject",
    "TransducerKit",
    "Weights",
    "TurnForm",
    "Variation",
    "adjusted_table",
    "chain_breaks",
    "check_table",
    "counted",
    "day_there",
    "default_points",
    "digest_of",
    "fold",
    "form_table",
    "is_complete",
    "is_enough",
    "is_set_up",
    "listing",
    "load_pieces",
    "progress_of",
    "pull_as_written",
    "pulls_by_point",
    "read_check",
    "read_entry",
    "read_kit",
    "read_limit",
    "read_load",
    "read_masses",
    "read_place",
    "read_scales",
    "read_table",
    "read_tool",
    "read_turns",
    "standing_verdict",
    "standing_weighing",
    "subject_name",
    "subject_sort",
    "tool_state",
    "write_entry",
]
