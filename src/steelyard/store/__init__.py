"""The ledger on the disk: written in transactions, found by index, verified, rebuilt, backed up, restored.

In: drafts, questions, the place of a file. Out: entries, documents, findings; copies that were read back; the
private key beside it. Refuses: a file newer than the program, a file that is no ledger, a copy whose chain
does not hold; what the disk refuses comes back as one of the troubles in `errors`. Only `bootstrap` knows
this room.
"""

from steelyard.store.backup import back_up, back_up_daily, last_backup, lay_aside, restore
from steelyard.store.key_file import (
    KEY_FILE,
    has_key_file,
    is_private,
    laid_keys,
    make_key,
    move_key,
    protected_copy,
    put_key,
    read_key,
)
from steelyard.store.ledger import SqlLedger
from steelyard.store.memory import MemoryLedger
from steelyard.store.opening import open_ledger
from steelyard.store.photograph import Photograph, keep_photograph
from steelyard.store.rebuild import rebuild_documents
from steelyard.store.steps import OnStep
from steelyard.store.trouble import told
from steelyard.store.verify import Verification, verify_against, verify_ledger
from steelyard.store.whole_export import whole_workshop
from steelyard.store.whole_form import WholeCounts
from steelyard.store.whole_import import fill_empty_ledger, take_whole_workshop

__all__ = [
    "KEY_FILE",
    "MemoryLedger",
    "OnStep",
    "Photograph",
    "SqlLedger",
    "Verification",
    "WholeCounts",
    "back_up",
    "back_up_daily",
    "fill_empty_ledger",
    "has_key_file",
    "is_private",
    "keep_photograph",
    "laid_keys",
    "last_backup",
    "lay_aside",
    "make_key",
    "move_key",
    "open_ledger",
    "protected_copy",
    "put_key",
    "read_key",
    "rebuild_documents",
    "restore",
    "take_whole_workshop",
    "told",
    "verify_against",
    "verify_ledger",
    "whole_workshop",
]
