"""The one place that joins the ledger, the clock, the dice and the darkroom with the desk.

In: the folder of a workshop. Out: the workshop, open; its backups; what is done to its file as a whole.
Refuses: what the ledger refuses. Only the doors know this room.
"""

from steelyard.bootstrap.backups import start_daily_backups
from steelyard.bootstrap.demo import fill_demo
from steelyard.bootstrap.folders import find_folder, move_workshop, own_folder, restore_workshop
from steelyard.bootstrap.keyring import Keyring, KeySaid
from steelyard.bootstrap.one_server import OneServer, one_server
from steelyard.bootstrap.opened import (
    LEDGER_FILE,
    Workshop,
    demo_workshop,
    empty_ledger,
    existing_workshop,
    workshop,
)
from steelyard.bootstrap.tables import table_file
from steelyard.bootstrap.whole import (
    WHOLE_FILE,
    bring_whole_workshop,
    has_zip,
    take_in_workshop,
    workshop_zip,
)
from steelyard.bootstrap.world import Photographs, SystemDice, WallClock
from steelyard.store import WholeCounts

__all__ = [
    "KeySaid",
    "Keyring",
    "LEDGER_FILE",
    "OneServer",
    "Photographs",
    "SystemDice",
    "WHOLE_FILE",
    "WallClock",
    "WholeCounts",
    "Workshop",
    "bring_whole_workshop",
    "demo_workshop",
    "empty_ledger",
    "existing_workshop",
    "fill_demo",
    "find_folder",
    "has_zip",
    "move_workshop",
    "one_server",
    "own_folder",
    "restore_workshop",
    "start_daily_backups",
    "table_file",
    "take_in_workshop",
    "workshop",
    "workshop_zip",
]
