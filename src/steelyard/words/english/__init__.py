"""The English sentences, one module per kind of message; together they are the catalogue."""

from steelyard.words.english.findings import FINDINGS
from steelyard.words.english.fitness import FITNESS
from steelyard.words.english.judging import JUDGING
from steelyard.words.english.program import PROGRAM
from steelyard.words.english.reckoning import RECKONING
from steelyard.words.english.refusals import REFUSALS
from steelyard.words.english.simulating import SIMULATING

CATALOGUE: dict[str, str] = {
    **FINDINGS,
    **FITNESS,
    **JUDGING,
    **PROGRAM,
    **RECKONING,
    **REFUSALS,
    **SIMULATING,
}
