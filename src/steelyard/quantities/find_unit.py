"""From what a person typed for a unit to the unit itself."""

import re
import unicodedata
from functools import lru_cache

from steelyard.errors import InputRefused
from steelyard.quantities.spellings import SPELLINGS
from steelyard.quantities.table import UNITS
from steelyard.quantities.unit import Dimension, Unit

LONGEST_UNIT = 60
SPELLINGS_KEPT = 1000
SHOWN_EXAMPLES = 3
# Look-alikes that Unicode would fold into something else: º ˚ → °, primes and curly quotes → ' and ".
LOOK_ALIKES = str.maketrans({"º": "°", "˚": "°", "′": "'", "’": "'", "″": '"', "”": '"', "^": None})
BETWEEN_WORDS = re.compile(r"[\s.·⋅•∙‧×*_\-‐‒–]+")  # hyphens: the key's, hyphen, figure dash, en dash
AROUND_SLASH = re.compile(r"·?/·?")


def key(spelling: str) -> str:
    """A spelling without what may vary: every gap between words is one dot, powers are plain digits."""
    plain = unicodedata.normalize("NFKC", spelling.translate(LOOK_ALIKES)).strip().rstrip(".")
    return AROUND_SLASH.sub("/", BETWEEN_WORDS.sub("·", plain))


def written(spelling: str) -> tuple[str, str]:
    """The keys of one listed spelling: with gaps and joined."""
    return key(spelling), key(spelling).replace("·", "")


EXACT = {
    (row.dimension, form): UNITS[row.dimension][row.symbol]
    for row in SPELLINGS
    for spelling in (*row.any_case, *row.exact)
    for form in written(spelling)
}
ANY_CASE = {
    (row.dimension, form.casefold()): UNITS[row.dimension][row.symbol]
    for row in SPELLINGS
    for spelling in row.any_case
    for form in written(spelling)
}


@lru_cache(maxsize=SPELLINGS_KEPT)
def known_unit(spelling: str, dimension: Dimension) -> Unit | None:
    """The unit of a spelling, or None; `nm` is none: a nanometre where a newton metre may be meant."""
    if len(spelling) > LONGEST_UNIT or is_nanometre(spelling, dimension):
        return None
    form = key(spelling)
    return EXACT.get((dimension, form)) or ANY_CASE.get((dimension, form.casefold()))


def is_nanometre(spelling: str, dimension: Dimension) -> bool:
    """Small n written close to m, where a torque is asked for."""
    return dimension is Dimension.TORQUE and key(spelling) in ("nm", "nM")


def find_unit(spelling: str, dimension: Dimension, *, field: str) -> Unit:
    """The unit a person means by `spelling` where `dimension` is asked for.

    spelling: as typed, at most 60 characters: any spelling of `spellings.py`, its words joined, spaced,
        dotted, hyphenated or crossed, in any case where capitals change nothing.
    dimension: what the field asks for; `lb·ft` is a unit of torque alone, `lb` of mass alone.
    field: where it stands, in the words of the form.
    Returns the one unit. For torque a mass times a length is read as a force times a length: `kg·m` as kgf·m.
    Raises InputRefused for all else: `MNm` (mega is not known), `nm` (nanometre or newton metre?), `gal`.
    Left out: products and quotients that are not listed; nothing is worked out from parts.
    """
    found = known_unit(spelling, dimension)
    if found is not None:
        return found
    if is_nanometre(spelling, dimension):
        raise InputRefused(field, spelling, "want-newton-metre")
    examples = ", ".join(list(UNITS[dimension])[:SHOWN_EXAMPLES])
    raise InputRefused(
        field, spelling.strip() or None, "want-known-unit", dimension=dimension.value, examples=examples
    )
