"""A sealed record in words and pictures, from what was kept; stored digits stand, nothing is judged anew."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from steelyard.desk import Body, RecordView, ToolKind
from steelyard.desk.typed_table import as_shown
from steelyard.telling.changes import changes_said, way_said
from steelyard.telling.days import at_hour
from steelyard.telling.marks import marked, marked_as_kept, marked_text
from steelyard.telling.record_points import PHASES
from steelyard.words import cautions as caution_codes
from steelyard.words import say

Row = tuple[str, str]
Step = Mapping[str, Any]
HANGING = ("hung-weight", "drum")
STANDS = ("arm", "droop", "drop", "drum", "cord", "dribble", "resolution", "drift", "hysteresis", "mounting")
STATED = {"stated_of_reading": "line-stated", "stated_of_full_scale": "line-stated-full-scale"}
SAID = {"axis": "setup-axis", "zeroed": "setup-zeroed", "mode": "setup-mode"}
OWN_WEIGHT = {
    "mass": "record-kit-tool-mass",
    "balance_point": "record-kit-tool-balance",
    "own_reading": "record-kit-tool-reading",
    "own_reading_at": "record-kit-tool-reading-at",
    "own_weight": "record-kit-tool-own",
    "pivot": "record-kit-tool-pivot",
}
GROUP = 8


def headed(sentence: str) -> Row:
    """A sentence with its heading before a gap, as heading and rest."""
    head, _, rest = sentence.strip().partition("  ")
    return head, rest.strip()


def what(view: RecordView, decimal_mark: str) -> list[Row]:
    """Tool, kit, papers, limit, rule, day, and what came before the pulls."""
    body, content = view.body, _any_content(view.body)
    rows = list(_judged_by(content, decimal_mark)) if content is not None else []
    rows.append((say("record-why"), _with_note(say(f"why-{body['why']}"), body["note"])))
    rows.append((say("record-look"), looked(body["look"])))
    if body["setup"] is not None:
        rows.append((say("record-exercise"), _exercised(body)))
    conditions = _conditions(content, decimal_mark) if content is not None else ""
    return [*rows, *([(say("record-conditions"), conditions)] if conditions else [])]


def _any_content(body: Body) -> Mapping[str, Any] | None:
    """What was kept of the last phase that was judged."""
    said = [body["verdicts"][phase]["content"] for phase in PHASES if phase in body["verdicts"]]
    return said[-1] if said else None


def _judged_by(content: Mapping[str, Any], mark: str) -> Iterator[Row]:
    tool, kit, limit = content["tool"], content["kit"], content["limit"]
    yield headed(
        say(
            "check-tool",
            number=tool["number"],
            kind=say(f"kind-{tool['kind']}"),
            make=f", {tool['make']}" if tool["make"] else "",
            lowest=tool["lowest"],
            highest=tool["highest"],
        )
    )
    yield headed(say("check-kit", kit=kit["name"], paper=paper_said(kit)))
    papers = papers_said(kit)
    if papers:
        yield say("record-papers"), papers
    yield headed(
        say(
            "check-limit",
            percent=marked_text(limit["percent"], mark),
            of=say("of-full-scale" if limit["measure"].startswith("full-scale") else "of-reading"),
            measure=say(f"measure-{limit['measure']}"),
            source=limit["source"],
        )
    )
    yield headed(say("check-rule", rule=rule_said(content)))


def paper_said(kit: Mapping[str, Any]) -> str:
    """The certificate of a kept kit, or that there is none."""
    number = kit["certificate"]
    return say("paper-traceable", certificate=number) if number else say("paper-none")


def papers_said(kit: Mapping[str, Any]) -> str:
    """Whose paper a kept kit has, and how long it lasts; empty where it has none."""
    if kit["paper"] is None:
        return ""
    unsaid = say("record-paper-not-said")
    return say(
        "record-paper", **{key: kit["paper"][key] or unsaid for key in ("laboratory", "issued", "due")}
    )


def rule_said(content: Mapping[str, Any]) -> str:
    """The rule by which a kept content was judged."""
    rule = say(f"rule-{content['rule']}")
    is_by_answers = any(point.get("threshold") for point in content["points"])
    return say("of-answers", rule=rule) if is_by_answers else rule


def _conditions(content: Mapping[str, Any], mark: str) -> str:
    said = content["conditions"]
    parts = (
        ("record-room", "celsius", said["room_celsius"]),
        ("record-room-change", "celsius", said["room_change_celsius"]),
        ("record-gravity", "gravity", said["gravity_m_s2"]),
        ("record-air", "air", said["air_kg_m3"]),
        ("record-load-time", "seconds", said["load_seconds"]),
    )
    return ", ".join(
        say(code, **{fact: marked(value, mark)}) for code, fact, value in parts if value is not None
    )


def _exercised(body: Body) -> str:
    if not body["exercise"]:
        return say("record-exercise-not-said")
    first = min((turn["number"] for turn in body["turns"]), default=None)
    rows = body["exercise"]
    before = sum(row["pulls"] for row in rows if first is None or row["number"] < first)
    after = sum(row["pulls"] for row in rows) - before
    code = "record-exercise-after" if after else "record-exercise-pulls"
    return say(code, pulls=before, **({"after": after} if after else {}))


def looked(look: Step | None) -> str:
    """What the eye found."""
    if look is None:
        return say("record-look-not-said")
    if not look["damaged"]:
        return _with_note(say("record-look-none"), look["note"])
    return say("record-look-goes-on" if look["goes_on"] else "record-look-damaged", note=look["note"])


def _with_note(text: str, note: str | None) -> str:
    return f"{text}; {note}" if note else text


def kit_stood(view: RecordView, mark: str) -> list[Row]:
    """How the kit stood, as typed or worked out: lengths, axis and zero, masses and scales."""
    if view.body["setup"] is None:
        return []
    setup = view.body["setup"]
    kit, hung = setup["form"]["kit"], _hung(setup["points"])
    return [*_measured(kit), *_own_weight(setup["form"]["tool"], mark), *_masses(kit, mark), *hung]


def _own_weight(tool: Mapping[str, Any], mark: str) -> Iterator[Row]:
    """What is known of the tool's own weight, as typed."""
    for name, code in OWN_WEIGHT.items():
        if tool.get(name):
            yield say(code), marked_as_kept(str(tool[name]), mark)


def _hung(points: Iterable[Mapping[str, Any]]) -> Iterator[Row]:
    """What hung at each point where the load was known before."""
    for point in points:
        if point.get("load"):
            direction = say(f"direction-{point['direction']}")
            yield (
                say("record-kit-load", target=point["target"], direction=direction),
                as_shown(str(point["load"])),
            )


def _measured(kit: Mapping[str, Any]) -> Iterator[Row]:
    for name in STANDS:
        if kit.get(name):
            yield say(f"line-{name}"), _stated(kit[name])
    for name, code in STATED.items():
        if kit.get(name):
            yield say(code), _stated(kit[name])
    for name, code in SAID.items():
        if kit.get(name):
            yield say(f"record-kit-{name}"), say(f"{code}-{kit[name]}")


def _masses(kit: Mapping[str, Any], mark: str) -> Iterator[Row]:
    for name in ("material", "always"):
        if kit.get(name):
            yield say(f"record-kit-{name}"), _stated(kit[name])
    if kit.get("mass"):
        rows = (
            say(
                "record-kit-mass-of",
                name=mass["name"],
                value=marked_text(_stated(mass.get("value", "")), mark),
            )
            for mass in kit["mass"]
        )
        yield say("record-kit-mass"), "; ".join(rows)
    if kit.get("scale"):
        rows = (
            say("record-kit-scale-of", name=scale["name"], step=marked_as_kept(scale.get("step", ""), mark))
            for scale in kit["scale"]
        )
        yield say("record-kit-scale"), "; ".join(rows)


def _stated(value: object) -> str:
    """A value as typed, or one that a paper states with its U and k."""
    return as_shown(say("record-kit-stated", **value) if isinstance(value, Mapping) else str(value))


def turns(body: Body, mark: str) -> list[str]:
    """Every turn of the adjuster with what it did, the lock, or why it was let be."""
    rows = []
    done = (body["closed"] or {}).get("adjusted") or {"points": [], "moved_percent": []}
    for i, turn in enumerate(body["turns"]):
        text = say("record-turn", turns=turn["turns"], way=way_said(turn))
        if turn["note"]:
            text = say("record-turn-note", turn=text, note=turn["note"])
        did = _did(done, i, mark) if done["points"] else ""
        rows.append(say("record-turn-did", turn=text, did=did) if did else text)
    if body["turns"]:
        rows.append(_lock(body, done, mark))
    if body["waived"] is not None:
        rows.append(say("record-waived", reason=body["waived"]["reason"]))
    return rows


def _did(done: Mapping[str, Any], i: int, mark: str) -> str:
    """What one turn did to each point; with its ± where that was kept."""
    within = done.get("moved_within_percent")
    return changes_said(done["points"], done["moved_percent"][i], mark, within=within[i] if within else ())


def _lock(body: Body, done: Mapping[str, Any], mark: str) -> str:
    """How the lock was made, and what it did."""
    locked = body.get("locked")
    if locked is None:
        return say("record-never-locked")
    text = say("record-locked-note", note=locked["note"]) if locked["note"] else say("record-locked")
    within = done.get("lock_moved_within_percent", [])
    shift = changes_said(done["points"], done.get("lock_moved_percent", []), mark, within=within)
    return f"{text} {say('record-lock-moved', points=shift)}" if shift else text


def cautions(body: Body) -> list[str]:
    """What to take care of where something hung."""
    if body["setup"] is None or body["setup"]["form"]["kit"]["kind"] not in HANGING:
        return []
    shows = ToolKind(body["setup"]["form"]["tool"]["kind"]).is_indicating
    return [say(code) for code in caution_codes(signals=not shows)]


def at_by(step: Step, people: Mapping[str, str]) -> str:
    """When, and by whom."""
    return say("record-at-by", at=at_hour(step["at"], step["offset_minutes"]), who=who(step["who"], people))


def who(key: str, people: Mapping[str, str]) -> str:
    """The name behind a key; that nobody is named where it was not said, or is forgotten."""
    return people.get(key) or say("book-nobody")


def in_groups(digest: str) -> str:
    """A digest as it is read out and typed again: in groups of eight."""
    return " ".join(digest[i : i + GROUP] for i in range(0, len(digest), GROUP))


def findings(found: Iterable[Any]) -> list[str]:
    """What verifying found, each as a sentence that stands on its own."""
    sentences = (say(finding.code, **finding.facts) for finding in found)
    return [f"{sentence[0].upper()}{sentence[1:]}." for sentence in sentences]
