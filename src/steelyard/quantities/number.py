"""Reading a number as people write it: with a point or a comma, grouped by spaces or apostrophes."""

import re
from decimal import Decimal
from typing import NoReturn

from steelyard.errors import InputRefused

LONGEST_TEXT = 200
MOST_DIGITS = 20
LARGEST_EXPONENT = 30

GAPS = " \u00a0\u2007\u2009\u202f"  # space, no-break, figure, thin, narrow no-break
APOSTROPHES = "'\u2019"
EXPONENT = r"(?:[eE](?P<exponent>[+\-\u2212]?[0-9]{1,4}))?"
PLAIN = re.compile(rf"(?P<sign>[+\-\u2212]?)(?P<whole>[0-9]*)(?:[.,](?P<part>[0-9]+))?{EXPONENT}")
GROUPED = re.compile(
    rf"(?P<sign>[+\-\u2212]?)(?P<whole>[1-9][0-9]{{0,2}}(?P<gap>[{GAPS}{APOSTROPHES}])[0-9]{{3}}"
    rf"(?:(?P=gap)[0-9]{{3}})*)(?:[.,](?P<part>[0-9]+))?{EXPONENT}"
)
BOTH_MARKS = re.compile(
    rf"(?P<sign>[+\-\u2212]?)(?P<whole>[1-9][0-9]{{0,2}}(?P<gap>[.,])[0-9]{{3}}(?:(?P=gap)[0-9]{{3}})*)"
    rf"(?!(?P=gap))[.,](?P<part>[0-9]+){EXPONENT}"
)
TWO_READINGS = re.compile(r"(?P<whole>[+\-\u2212]?[1-9][0-9]{0,2})(?P<mark>[.,])(?P<part>[0-9]{3})")
NOT_FINITE = re.compile(r"[+\-\u2212]?(?P<word>nan|inf(?:inity)?|∞)", re.IGNORECASE)


def read_number(text: str, *, field: str, mark_is_decimal: bool = False) -> Decimal:
    """The number in a text, with the digits as typed.

    text: digits 0–9 with one decimal point or comma; groups of three set apart by one kind of gap, apostrophe
        or the other mark; a sign; an exponent such as e3. At most 200 characters, 20 significant digits and
        powers of ten up to ±30.
    field: where it stands, in the words of the form.
    mark_is_decimal: a single mark before three digits cannot mean thousands here, because of the unit.
    Returns the exact decimal; trailing zeros are kept, because they say how finely it was read.
    Raises InputRefused for anything else; above all for `96.100` and `1,000`, which could be thousands: one
        digit more or fewer settles it.
    """
    plain = text.strip()
    if not plain:
        raise InputRefused(field, None, "want-number")
    if len(text) > LONGEST_TEXT:
        raise InputRefused(field, text, "want-shorter", longest=LONGEST_TEXT)
    if not mark_is_decimal:
        refuse_two_readings(plain, field)
    match = PLAIN.fullmatch(plain) or GROUPED.fullmatch(plain) or BOTH_MARKS.fullmatch(plain)
    if match is None or not (match["whole"] or match["part"]):
        refuse_no_number(plain, field)
    return decimal(match, field)


def refuse_no_number(text: str, field: str) -> NoReturn:
    """Raise for a text that is no number, and say so apart where it names one without an end."""
    word = NOT_FINITE.fullmatch(text)
    if word:
        raise InputRefused(field, text, "want-finite-number", word=word["word"].lower())
    raise InputRefused(field, text, "want-number")


def refuse_two_readings(text: str, field: str) -> None:
    """Raise where a single mark before three digits may be a decimal or a thousands mark."""
    match = TWO_READINGS.fullmatch(text)
    if not match:
        return
    whole, mark, part = match["whole"], match["mark"], match["part"]
    as_decimal = whole + mark + (part[:-1] if part.endswith("0") else part + "0")
    raise InputRefused(field, text, "want-clear-thousands", as_decimal=as_decimal, as_thousands=whole + part)


def decimal(match: re.Match[str], field: str) -> Decimal:
    """The matched parts as one exact number, within the limits of size."""
    whole = "".join(c for c in match["whole"] if c.isdecimal())
    part = match["part"] or ""
    exponent = (match["exponent"] or "0").replace("\u2212", "-")
    number = Decimal(f"{match['sign']}{whole}.{part}e{exponent}".replace("\u2212", "-"))
    digits = len((whole + part).lstrip("0"))
    if digits > MOST_DIGITS or max(abs(number.adjusted()), abs(int(exponent))) > LARGEST_EXPONENT:
        raise InputRefused(field, match.string, "want-plain-number", digits=MOST_DIGITS)
    return number
