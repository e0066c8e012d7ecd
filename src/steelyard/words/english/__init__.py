"""The English sentences, one module per kind of message; together they are the catalogue."""

from steelyard.words.english.refusals import REFUSALS

CATALOGUE: dict[str, str] = {**REFUSALS}
