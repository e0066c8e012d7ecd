"""The message catalogue: every sentence a person reads, by code.

In: a code and the facts its sentence needs. Out: the sentence, in the language of the environment where a
translation is installed, else in English. Refuses: an unknown code (KeyError: our own mistake).
A language is one gettext file: context = code, text = the English sentence of `english/`.
"""

from steelyard.words.catalogue import say
from steelyard.words.cautions import CAUTIONS, cautions
from steelyard.words.english import CATALOGUE
from steelyard.words.thresholds import answer_said, as_set, bolts_bound, bolts_estimate, bracket_lines

__all__ = [
    "CATALOGUE",
    "CAUTIONS",
    "answer_said",
    "as_set",
    "bolts_bound",
    "bolts_estimate",
    "bracket_lines",
    "cautions",
    "say",
]
