"""What happened to a tool, in words."""

from steelyard.desk import Happened
from steelyard.desk.typed_table import as_shown
from steelyard.telling.marks import marked_as_kept
from steelyard.words import say


def why(happened: Happened, mark: str) -> str:
    """What was noted, or the record that brought it about."""
    if happened.record is not None:
        return say("rack-by-record", record=happened.record)
    if happened.pivot is not None:
        loads = {name: as_shown(text) for name, text in happened.pivot.items()}
        return say("rack-by-pivot", **{**loads, "pivot": marked_as_kept(happened.pivot["pivot"], mark)})
    if happened.is_damage:
        return say("rack-by-look", note=happened.note)
    said = (say("rack-by-loan", who=happened.to) if happened.to else "", happened.note or "")
    return " ".join(text for text in said if text)
