"""Pouring until it clicks: the water after the click said once, and every run as it ended."""

from collections.abc import Mapping
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.bench import open_body, write_step
from steelyard.desk.pulls import read_pull
from steelyard.desk.typed_table import Column, marked_as, typed_table
from steelyard.desk.workshop import settings
from steelyard.errors import InputRefused
from steelyard.records import Entry, HungKit, Kind, is_set_up, read_table

SHOWN = (Column("shows", "kg"),)
WATER = (Column("dribble", "g"),)
ENDS = ("clicked", "never")


def end_run(
    acting: Acting, check: str, phase: str, point: int, typed: Mapping[str, str], *, seen: int | None = None
) -> Entry:
    """Keep one run: a bucket filled until the click, or full without one.

    typed: `shows`, what the scale shows, bucket and all; `scale`, its name, empty for the only one;
    `beside`, weights that hung with it; `ended`, clicked or never; `sure`.
    Raises NotFound, RecordSealed, Conflict; InputRefused with the field.
    """
    ended = typed.get("ended", "")
    if ended not in ENDS:
        raise InputRefused("ended", ended or None, "want-run-end")
    pull = {"bucket": _load(acting, typed), "sure": typed.get("sure", "")}
    if ended == "never":
        pull["never_clicked"] = "yes"
    try:
        return read_pull(acting, check, phase, point, pull, seen=seen)
    except InputRefused as refused:
        field = "shows" if refused.field == "bucket" else refused.field
        raise InputRefused(field, refused.given, refused.wanted, **refused.facts) from None


def _load(acting: Acting, typed: Mapping[str, str]) -> str:
    """The whole load in one text, as the form of a check has it."""
    marked = marked_as(typed, SHOWN, settings(acting.ledger).reads_by)
    shown = typed_table(marked, SHOWN, torque_unit="").get("shows")
    if shown is None:
        raise InputRefused("shows", None, "want-shown-mass")
    scale, beside = typed.get("scale", "").strip(), typed.get("beside", "").strip()
    weighed = f"{shown} on {scale}" if scale else str(shown)
    return f"{beside} + {weighed}" if beside else weighed


def say_water(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Say how much water may run in after the click, at most; it counts for all runs of the check.

    typed: `dribble`. Raises NotFound, RecordSealed, Conflict; InputRefused with the field `dribble`.
    """
    body = open_body(acting.ledger, check)
    if not is_set_up(body):
        raise InputRefused("dribble", None, "want-set-up")
    said = settings(acting.ledger)
    text = typed_table(marked_as(typed, WATER, said.reads_by), WATER, torque_unit="").get("dribble")
    if text is None:
        raise InputRefused("dribble", None, "want-water-mass")
    setup = body["setup"]
    form: dict[str, Any] = {**setup["form"], "kit": {**setup["form"]["kit"], "dribble": text}}
    table = {"steelyard_check": 1, "date": body["day"], **form, "point": setup["points"]}
    try:
        kit = read_table(table).kit
    except InputRefused as refused:
        raise InputRefused("dribble", refused.given, refused.wanted, **refused.facts) from None
    if not isinstance(kit, HungKit):
        raise InputRefused("dribble", text, "want-trial-kit")
    payload = {"rig": setup["rig"], "form": form, "points": setup["points"]}
    write_step(acting, body, Kind.RIG_SET_UP, payload, seen)
