"""The last checks of tools on the rack, for questions about what to set and which tool to take."""

from steelyard.desk.book import record_form
from steelyard.desk.ports import Body, Ledger, Wanted
from steelyard.desk.rack import STATES_IN_USE
from steelyard.desk.reckon_set_to import wanted_torque
from steelyard.errors import InputRefused, NotFound
from steelyard.quantities import Dimension, Quantity, read_quantity

MOST_TOOLS = 6  # judging a check again takes up to a second
LOOKED_AT = 200
LEAST_OF_MAXIMUM = 0.2


def forms_of_tools(ledger: Ledger, numbers: str, *, most: int = MOST_TOOLS) -> tuple[bytes, ...]:
    """The check form of the last record of each tool.

    numbers: as on the tools, set apart by commas; case does not tell two apart.
    Raises InputRefused with the field `tool`: unknown, without a record, or more than `most` of them.
    """
    named = [number.strip() for number in numbers.split(",") if number.strip()]
    if len(named) > most:
        raise InputRefused("tool", numbers, "want-fewer-tools", most=most)
    return tuple(_last_form(ledger, _by_number(ledger, number)) for number in named)


def forms_that_may_do(ledger: Ledger, want: str | None) -> tuple[bytes, ...]:
    """The last check forms of tools that were in and whose range holds a torque, the smallest first.

    want: the torque as typed. At most MOST_TOOLS, from the first LOOKED_AT tools that were in.
    Raises InputRefused with the field `--want` where the torque cannot be read, `tool` where no tool fits.
    """
    wanted = wanted_torque(want)
    listed = ledger.documents(Wanted("tool", states=("in",), most=LOOKED_AT))
    fit = sorted(
        ((highest.base, i) for i, tool in enumerate(listed) if (highest := _holds(tool.body, wanted))),
    )
    if not fit:
        raise InputRefused("tool", None, "want-tool-in-range", torque=wanted.typed)
    return tuple(_last_form(ledger, listed[i].body) for _, i in fit[:MOST_TOOLS])


def _holds(body: Body, wanted: Quantity) -> Quantity | None:
    """The highest torque of a tool whose range, from a fifth of its maximum, holds the wanted one."""
    highest = read_quantity(body["tool"]["highest"], Dimension.TORQUE, field="highest")
    return highest if LEAST_OF_MAXIMUM * highest.base <= wanted.base <= highest.base else None


def _by_number(ledger: Ledger, number: str) -> Body:
    found = ledger.documents(Wanted("tool", states=STATES_IN_USE, words=number, most=LOOKED_AT))
    for listed in found:
        if str(listed.body["tool"]["number"]).casefold() == number.casefold():
            return listed.body
    raise InputRefused("tool", number, "want-known-tool")


def _last_form(ledger: Ledger, body: Body) -> bytes:
    number = str(body["tool"]["number"])
    if not body["checks"]:
        raise InputRefused("tool", number, "want-checked-tool")
    try:
        return record_form(ledger, body["checks"][-1]["record"])
    except NotFound:
        raise InputRefused("tool", number, "want-checked-tool") from None
