"""Yes/no trials in words and picture: what to hang, what the answers say, the list of them."""

from dataclasses import dataclass

from steelyard.charts import Chart, Found, Trial, trial_levels
from steelyard.desk import (
    Body,
    Enough,
    Makeable,
    Sides,
    ToolKind,
    Trials,
    Way,
    changed_pieces,
    threshold_content,
)
from steelyard.desk.trial_cause import trial_cause
from steelyard.desk.typed_table import as_shown
from steelyard.telling import cause_said, marked, marked_text
from steelyard.web.load_words import kilogram_said
from steelyard.words import answer_said, as_set, bolts_bound, bolts_estimate, bracket_lines, say


@dataclass(frozen=True)
class Ahead:
    """The next trial. label, large: what to do and with what; sum, change: in all, and against what hangs."""

    label: str
    large: str
    sum: str
    change: str


@dataclass(frozen=True)
class Answered:
    """One answer of the list. answer: `click`, `no-click` or `between`, for its shape."""

    number: int
    load: str
    more: str
    said: str
    answer: str
    level: str
    struck_out: str | None


@dataclass(frozen=True)
class TrialWords:
    """A point seen through its answers. ahead: None where nothing near can be made.

    estimate: the sentence that is read first, once there are answers. lines: what stands below it.
    enough: why more would not help; empty where more would.
    """

    ahead: Ahead | None
    ritual: str
    estimate: str
    lines: tuple[str, ...]
    enough: str
    verdict: str
    answers: tuple[Answered, ...]
    picture: Chart | None


def trial_words(trials: Trials, body: Body, mark: str) -> TrialWords:
    """Everything the page of a point says, in a reader's decimal mark."""
    tool = ToolKind(body["setup"]["form"]["tool"]["kind"])
    return TrialWords(
        ahead=ahead(trials, mark),
        ritual=ritual(trials, mark, is_set=tool.is_adjustable),
        estimate=estimate(trials, mark),
        lines=_lines(trials, mark),
        enough=enough_said(trials, mark),
        verdict=verdict_now(trials),
        answers=_answers(trials, mark),
        picture=_picture(trials, mark),
    )


# ---------------------------------------------------------------- the next trial


def ahead(trials: Trials, mark: str) -> Ahead | None:
    """What to hang, fill or set."""
    following = trials.next
    if following is None:
        return None
    label, large = say("trials-hang"), following.load
    if following.way is Way.SETTING:
        label, large = say("trials-set"), following.set_typed
    elif following.way is Way.POURED:
        large, _, scale = following.load.partition(" on ")
        label = say("trials-pour", scale=scale)
    return Ahead(label, marked_text(large, mark), _in_all(trials, following, mark), _change(trials, mark))


def _in_all(trials: Trials, following: Makeable, mark: str) -> str:
    always, kilogram = trials.kit.always_typed, kilogram_said(following.kilogram, mark)
    code = "trials-sum-always" if always else "trials-sum"
    said = say(code, kilogram=kilogram, always=always)
    return f"{said}, {say('trials-at', at=trials.at)}" if trials.at else said


def _change(trials: Trials, mark: str) -> str:
    """Against what hangs now; empty before the first trial."""
    following, hangs = trials.next, trials.hangs
    if following is None or hangs is None:
        return say("trials-hang-on", pieces=following.load) if following and _only_set(trials) else ""
    before = as_shown(hangs.form.loads[0])
    if following.way is Way.POURED:
        more = following.kilogram - hangs.form.pull.raw
        code = "trials-pour-in" if more > 0 else "trials-pour-out"
        return say(code, kilogram=f"{marked(abs(more), mark):.3f}")
    off, on = changed_pieces(before, as_shown(following.load))
    if not off and not on:
        is_set = following.way is Way.SETTING
        return say("trials-stays", load=before) if is_set else say("trials-same")
    parts = [("trials-take-off", off), ("trials-hang-on", on)]
    return " ".join(say(code, pieces=" + ".join(pieces)) for code, pieces in parts if pieces)


def _only_set(trials: Trials) -> bool:
    return trials.next is not None and trials.next.way is Way.SETTING


def ritual(trials: Trials, mark: str, *, is_set: bool) -> str:
    """How a trial goes, in one line."""
    if not is_set:
        return say("trials-ritual-preset")
    set_to = marked_text(trials.next.set_typed, mark) if trials.next else trials.point.target.typed
    return say("trials-ritual", set=set_to)


# ---------------------------------------------------------------- what the answers say


def estimate(trials: Trials, mark: str) -> str:
    """What bolts get, or the bound that is all there is."""
    found, low, high = trials.threshold, trials.low_percent, trials.high_percent
    bound = bolts_bound(threshold_content(found), lambda value: marked(value, mark)) if found.count else ""
    if bound:
        code = "trials-try-less" if found.sides is Sides.ONLY_CLICKS else "trials-try-more"
        return begun(say(code, bound=bound))
    if low is None or high is None:
        return ""
    return estimate_said(found.percent, low, high, mark)


def estimate_said(percent: float, low: float, high: float, mark: str) -> str:
    """What bolts get against what was set, and between which ends, in the reader's decimal mark."""
    return begun(bolts_estimate(percent, low, high, lambda value: marked(value, mark)))


def begun(sentence: str) -> str:
    """With a capital letter and a full stop."""
    return f"{sentence[0].upper()}{sentence[1:].removesuffix('.')}."


def _lines(trials: Trials, mark: str) -> tuple[str, ...]:
    found = trials.threshold
    sure = (say("trials-sure-of"),) if trials.low_percent is not None and found.is_two_sided else ()
    return (*sure, *bracket_lines(threshold_content(found), lambda value: marked(value, mark)))


def enough_said(trials: Trials, mark: str) -> str:
    """Why more trials would not help; empty where they would."""
    if trials.enough is None or trials.result is None:
        return ""
    expanded = marked(trials.result.counted.expanded_percent, mark)
    return say(f"trials-enough-{Enough(trials.enough).value}", expanded=expanded)


def verdict_now(trials: Trials) -> str:
    """The verdict that the answers would give, and why; empty before there is one."""
    if trials.result is None:
        return ""
    said = say("trials-as-judged", verdict=say(f"bench-verdict-{trials.result.judged.verdict}"))
    cause, widest = trial_cause(trials.result)
    line = say(f"line-{widest.name}", detail=widest.detail) if widest is not None else ""
    why = cause_said({"threshold": trials.threshold, "cause": cause.value}, line)
    return f"{said} {say('judged-cause', cause=why)}" if why else said


# ---------------------------------------------------------------- the list, the picture


def _answers(trials: Trials, mark: str) -> tuple[Answered, ...]:
    rows = []
    for number, read, answer in zip(trials.numbers, trials.pulls, trials.each, strict=True):
        drawn = Trial(answer.low_percent, answer.high_percent)
        pull = read.form.pull
        rows.append(
            Answered(
                number,
                as_shown(pull.typed),
                as_shown(as_set(set_to=read.form.set_typed, at=read.form.arm_typed)),
                answer_said(clicked=pull.clicked, never=pull.never_clicked),
                drawn.answer,
                say("trial-level", percent=marked(drawn.level_percent, mark)),
                pull.struck_out,
            )
        )
    return tuple(rows)


def _picture(trials: Trials, mark: str) -> Chart | None:
    drawn = [
        Trial(
            answer.low_percent,
            answer.high_percent,
            as_shown(read.form.pull.typed),
            not read.form.pull.is_said,
        )
        for read, answer in zip(trials.pulls, trials.each, strict=True)
    ]
    if not drawn:
        return None
    found, low, high = trials.threshold, trials.low_percent, trials.high_percent
    has_ends = low is not None and high is not None and found.is_two_sided
    return trial_levels(
        drawn,
        Found(
            bracket_percent=(found.bracket_low_percent, found.bracket_high_percent)
            if found.sides is Sides.SEPARATED
            else None,
            estimate_percent=(low, found.percent, high)
            if has_ends and low is not None and high is not None
            else None,
            limit_percent=trials.inside_percent,
        ),
        decimal_mark=mark,
    )
