"""What the world refuses, as one small tree of exceptions.

SteelyardError
├── InputRefused   something typed or read cannot be used (also a ValueError)
└── NotFound       what was named is not there

Each carries one sentence for a person, one HTTP status and one exit code. The caller's own bugs are
built-in exceptions and stand outside this tree; doubts about the work are values (`findings.Finding`).
"""

from steelyard.words import say

LONGEST_ECHO = 60


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
            return say("refused-missing", field=self.field, wanted=say(self.wanted, **self.facts))
        return say("refused-given", field=self.field, given=self.given, wanted=say(self.wanted, **self.facts))


class NotFound(SteelyardError):
    """What was named is not there."""

    http_status = 404
    exit_code = 4

    def __init__(self, what: str) -> None:
        self.what = echo(what)
        super().__init__(say("not-found", what=self.what))


def echo(given: object) -> str:
    """What a person typed, fit to be shown back: one line, shortened, nothing a terminal would obey."""
    text = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in str(given))
    return text if len(text) <= LONGEST_ECHO else text[: LONGEST_ECHO - 1] + "…"
