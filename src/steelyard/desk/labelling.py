"""Which tools get a label: named ones, or all that are due, set aside or in use."""

from collections.abc import Iterator, Sequence
from datetime import date

from steelyard.desk.book import tool_asked
from steelyard.desk.ports import Ledger
from steelyard.desk.rack_view import ToolView, tool_view, tools
from steelyard.errors import InputRefused, NotFound

LABEL_SETS = ("due", "quarantined", "here")
"""Sets of tools that get labels together, as the rack narrows its list: due by today, set aside, in use."""
MOST_LABELS = 1000


def tools_to_label(
    ledger: Ledger, names: Sequence[str], which: str = "", *, today: date
) -> tuple[ToolView, ...]:
    """Each tool that is meant, once: the named ones first, as named, then those of the set by their numbers.

    names: of tools in the ledger, or their numbers. which: of LABEL_SETS, or empty.
    Raises NotFound for a name nobody has; InputRefused with the field `tool` for a retired tool, where no
    tool is meant, and where too many are; with the field `which` for a set that is not there.
    """
    if which and which not in LABEL_SETS:
        raise InputRefused("which", which, "want-one-of", names=", ".join(LABEL_SETS))
    named = dict.fromkeys(_named(ledger, name) for name in names)
    wanted = list(named | dict.fromkeys(_of_set(ledger, which, today) if which else ()))
    if not wanted:
        raise InputRefused("tool", None, f"want-label-tools-{which}" if which else "want-label-tools")
    if len(wanted) > MOST_LABELS:
        raise InputRefused("tool", len(wanted), "want-fewer-labels", most=MOST_LABELS)
    return tuple(tool_view(ledger, tool, today) for tool in wanted)


def _named(ledger: Ledger, name: str) -> str:
    body = tool_asked(ledger, name)
    if body is None:
        raise NotFound(name)
    if body["is_retired"]:
        raise InputRefused("tool", body["tool"]["number"], "want-tool-in-use")
    return str(body["id"])


def _of_set(ledger: Ledger, which: str, today: date) -> Iterator[str]:
    after = None
    while True:
        found = tools(ledger, "", which, after, today=today)
        yield from (row.id for row in found.rows)
        after = found.after
        if after is None:
            return
