"""Asking for the verdict of a phase: judged from the entries alone, its digits kept."""

from collections.abc import Mapping

from steelyard.desk.acting import Acting
from steelyard.desk.bench import open_body, write_step
from steelyard.desk.check import JudgedCheck, judge_form
from steelyard.desk.content import check_content
from steelyard.desk.ports import Body, Ledger
from steelyard.errors import InputRefused
from steelyard.records import Kind, check_table, is_complete, is_set_up, read_table


def judge_phase(
    acting: Acting, check: str, phase: str, typed: Mapping[str, str], *, seen: int | None = None
) -> str:
    """Judge the pulls of a phase and keep the whole content; returns the verdict.

    typed: `incomplete` is `yes` where planned pulls are missing on purpose. seen: last entry that was known
    of the check. Raises Conflict, RecordSealed; InputRefused with the field `incomplete` where pulls are
    missing, `line` where none can be judged.
    """
    body = open_body(acting.ledger, check)
    if not is_set_up(body):
        raise InputRefused("line", None, "want-set-up")
    if not is_complete(body, phase) and typed.get("incomplete", "") != "yes":
        raise InputRefused("incomplete", None, "want-all-pulls")
    judged = judged_phase(acting.ledger, body, phase)
    content = {**check_content(judged), "person": None}  # names stand in the side table alone
    payload = {"phase": phase, "verdict": judged.verdict.value, "content": content}
    write_step(acting, body, Kind.VERDICT_ASKED, payload, seen)
    return judged.verdict.value


def judged_phase(ledger: Ledger, body: Body, phase: str) -> JudgedCheck:
    """The judged check of a phase, computed now from what the ledger holds.

    Raises InputRefused with the field `line` where no point has two counted pulls.
    """
    who = body["setup"]["who"]
    table = check_table(body, phase, person=ledger.names().get(who))
    if not table["point"]:
        raise InputRefused("line", None, "want-two-pulls")
    return judge_form(read_table(table))
