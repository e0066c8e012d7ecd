"""The English sentences, one module per kind of message; together they are the catalogue."""

from steelyard.words.english.adjusting import ADJUSTING
from steelyard.words.english.asking import ASKING
from steelyard.words.english.bench_input import BENCH_INPUT
from steelyard.words.english.bench_pages import BENCH_PAGES
from steelyard.words.english.benching import BENCHING
from steelyard.words.english.booking import BOOKING
from steelyard.words.english.charting import CHARTING
from steelyard.words.english.exchanging import EXCHANGING
from steelyard.words.english.findings import FINDINGS
from steelyard.words.english.fitness import FITNESS
from steelyard.words.english.judging import JUDGING
from steelyard.words.english.keeping import KEEPING
from steelyard.words.english.labelling import LABELLING
from steelyard.words.english.manual import MANUAL
from steelyard.words.english.on_paper import ON_PAPER
from steelyard.words.english.paging import PAGING
from steelyard.words.english.program import PROGRAM
from steelyard.words.english.proving import PROVING
from steelyard.words.english.pull_page import PULL_PAGE
from steelyard.words.english.rack import RACK
from steelyard.words.english.readings_in import READINGS_IN
from steelyard.words.english.reckoning import RECKONING
from steelyard.words.english.refusals import REFUSALS
from steelyard.words.english.rigging import RIGGING
from steelyard.words.english.running import RUNNING
from steelyard.words.english.shell import SHELL
from steelyard.words.english.simulating import SIMULATING
from steelyard.words.english.storing import STORING
from steelyard.words.english.taking_away import TAKING_AWAY
from steelyard.words.english.taking_in import TAKING_IN
from steelyard.words.english.today import TODAY
from steelyard.words.english.trial_pages import TRIAL_PAGES
from steelyard.words.english.trials import TRIALS
from steelyard.words.english.weighing import WEIGHING

CATALOGUE: dict[str, str] = {
    **ADJUSTING,
    **ASKING,
    **BENCH_INPUT,
    **BENCH_PAGES,
    **BENCHING,
    **BOOKING,
    **CHARTING,
    **EXCHANGING,
    **FINDINGS,
    **FITNESS,
    **JUDGING,
    **KEEPING,
    **LABELLING,
    **MANUAL,
    **ON_PAPER,
    **PAGING,
    **PROGRAM,
    **PROVING,
    **PULL_PAGE,
    **RACK,
    **RECKONING,
    **REFUSALS,
    **RIGGING,
    **RUNNING,
    **SHELL,
    **SIMULATING,
    **TAKING_AWAY,
    **READINGS_IN,
    **TAKING_IN,
    **TODAY,
    **TRIAL_PAGES,
    **TRIALS,
    **STORING,
    **WEIGHING,
}
