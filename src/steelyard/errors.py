"""What the world refuses, as one small tree of exceptions.

SteelyardError
├── InputRefused   something typed or read cannot be used (also a ValueError)
├── NotFound       what was named is not there
├── RecordSealed   a sealed record is only ever followed by a correction
├── Conflict       somebody wrote meanwhile: look, then send again
└── StoreTrouble   the ledger cannot be read or written
    ├── Busy       another program holds the file
    ├── Served     this program serves the workshop just then
    ├── Full       no room on the disk
    ├── ReadOnly   the file or its folder may not be written
    ├── Damaged    the file is not what was written
    └── TooNew     written by a newer version of this program

Each carries one sentence for a person, one HTTP status and one exit code. The caller's own bugs are
built-in exceptions and stand outside this tree; doubts about the work are values (`findings.Finding`).
"""

from steelyard.words import say

LONGEST_ECHO = 60
LONGEST_PLACE = 400
"""Of an address or a path: cut, it could not be looked for."""


class SteelyardError(Exception):
    """The world refuses. `http_status` and `exit_code` say how each door reports it."""

    http_status = 500
    exit_code = 70
    try_again = False


class InputRefused(SteelyardError, ValueError):
    """One field cannot be used as given.

    field: where it stands, in the words of the form, such as `tool.mass` or `point 2, pulls`.
    given: what stood there, as typed; None when nothing stood there.
    wanted: catalogue code of what is wanted there (`words`, section refusals); `facts` fill its sentence.
    """

    http_status = 422
    exit_code = 3

    def __init__(self, field: str, given: object, wanted: str, **facts: object) -> None:
        self.field = field
        self.given = None if given is None else echo(given)
        self.wanted = wanted
        self.facts = facts
        super().__init__(self.sentence)

    @property
    def sentence(self) -> str:
        """One sentence: the field, what stood there, what is wanted."""
        if self.given is None:
            return say("refused-missing", field=self.field, wanted=self.wish)
        return say("refused-given", field=self.field, given=self.given, wanted=self.wish)

    @property
    def wish(self) -> str:
        """What is wanted, without the field's name: for a page that shows it beside the field."""
        return say(self.wanted, **self.facts)


class NotFound(SteelyardError):
    """What was named is not there."""

    http_status = 404
    exit_code = 4

    def __init__(self, what: str) -> None:
        self.what = echo(what, longest=LONGEST_PLACE)
        super().__init__(say("not-found", what=self.what))


class RecordSealed(SteelyardError):
    """Something was to be changed in a sealed record. record: its number."""

    http_status = 409
    exit_code = 4

    def __init__(self, record: int) -> None:
        self.record = record
        super().__init__(say("record-sealed", record=record))


class Conflict(SteelyardError):
    """The page was drawn before somebody else wrote. seen: entry the page knew; last: entry there is now."""

    http_status = 409
    exit_code = 4
    try_again = True

    def __init__(self, seen: int, last: int) -> None:
        self.seen, self.last = seen, last
        super().__init__(say("written-meanwhile", count=last - seen))


class StoreTrouble(SteelyardError):
    """The ledger cannot be read or written. place: of its file, as shown to the person."""

    http_status = 503
    exit_code = 5
    code = "store-trouble"

    def __init__(self, place: str, **facts: object) -> None:
        self.place = place
        super().__init__(say(self.code, place=place, **facts))


class Busy(StoreTrouble):
    """Another program holds the file."""

    code = "store-busy"
    try_again = True


class Served(StoreTrouble):
    """This program serves the workshop whose ledger was to be replaced. address: where it is shown."""

    code = "store-served"

    def __init__(self, place: str, *, address: str) -> None:
        super().__init__(place, address=echo(address, longest=LONGEST_PLACE))


class Full(StoreTrouble):
    """No room on the disk."""

    http_status = 507
    code = "store-full"
    try_again = True


class ReadOnly(StoreTrouble):
    """The file or its folder may not be written."""

    code = "store-read-only"


class Damaged(StoreTrouble):
    """The file is not what was written. what: in a few words."""

    http_status = 500
    code = "store-damaged"

    def __init__(self, place: str, *, what: str) -> None:
        super().__init__(place, what=echo(what))


class TooNew(StoreTrouble):
    """Written by a newer version of this program."""

    http_status = 500
    code = "store-too-new"


def echo(given: object, *, longest: int = LONGEST_ECHO) -> str:
    """What a person typed, fit to be shown back: one line, shortened, nothing a terminal would obey."""
    text = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in str(given))
    return text if len(text) <= longest else text[: longest - 1] + "…"
