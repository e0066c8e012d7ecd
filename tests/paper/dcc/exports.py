"""Records as they are exported: every shape a certificate has to say."""

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import sealed
from desk.hung_shop import hung_shop
from forms import ADAPTER, DRIVER, HUNG, changed
from steelyard.desk import (
    AS_FOUND,
    add_person,
    answer_trial,
    close_check,
    correct_record,
    judge_phase,
    record_export,
    record_file,
)
from web.shop import make_workshop

POUNDS = changed(ADAPTER, 'target = "100 N·m"', 'target = "70 lbf·ft"')
POUNDS = changed(POUNDS, '"96.1 97.0 96.6 96.8 96.5 N·m"', '"69.1 69.6 69.35 69.4 69.2 lbf·ft"')
NAMES = ("one point", "adjusted", "yes or no", "all clicks", "stopped", "pounds", "paper", "hung")


@cache
def export(name: str) -> dict[str, Any]:
    """One record. Not to be changed: a copy is."""
    made: dict[str, Callable[[], dict[str, Any]]] = {
        "one point": lambda: _from_file(ADAPTER),
        "adjusted": _adjusted,
        "yes or no": lambda: _by_answers("ynyyn"),
        "all clicks": lambda: _by_answers("yyy"),
        "stopped": _stopped,
        "pounds": lambda: _from_file(POUNDS),
        "paper": lambda: _from_file(DRIVER),
        "hung": lambda: _from_file(HUNG),
    }
    return made[name]()


def points(exported: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Every judged point of every phase."""
    for said in exported["content"]["verdicts"].values():
        yield from said["content"]["points"]


def _from_file(form: str) -> dict[str, Any]:
    workshop = make_workshop()
    return record_export(workshop.ledger, record_file(workshop.acting(), form.encode()))


def _adjusted() -> dict[str, Any]:
    workshop = make_workshop()
    rigger = add_person(workshop.acting(), {"person": "Quill"}).key
    acting = workshop.acting(who=rigger)
    record = sealed.adjusted(acting, sealed.tool(acting), sealed.transducer(acting))
    correct_record(acting, record, {"wrong": "the title", "right": "mid-season"})
    return record_export(workshop.ledger, record)


def _stopped() -> dict[str, Any]:
    workshop = make_workshop()
    acting = workshop.acting()
    return record_export(workshop.ledger, sealed.stopped(acting, sealed.tool(acting)))


def _by_answers(answers: str) -> dict[str, Any]:
    """Trials a little above and below, y for a click."""
    shop = hung_shop()
    shop.hang(targets="60")
    for i, answer in enumerate(answers):
        load = f"{12.7 + (0.2 if answer == 'y' else -0.2) + 0.01 * i:.2f} kg on S-2"
        typed = {"load": load, "clicked": "yes" if answer == "y" else "no"}
        answer_trial(shop.acting, shop.check, AS_FOUND, 0, typed)
    judge_phase(shop.acting, shop.check, AS_FOUND, {"incomplete": "yes"})
    record = close_check(shop.acting, shop.check, {"next_due": ""})
    return record_export(shop.workshop.ledger, record)
