"""Several masses from weighings of them together in several ways."""

from collections.abc import Sequence

from steelyard.desk.answer import Answer, Said
from steelyard.desk.figures import Known, both, figure, numbered
from steelyard.desk.typed_lines import asked_as
from steelyard.desk.typed_scale import KILOGRAM, elsewhere, exact_above_zero, mass_of, scale_as_typed
from steelyard.errors import InputRefused
from steelyard.findings import Finding, Severity
from steelyard.rigs import weighed_in_combinations

MOST_ROWS = 100
LONGEST_NAME = 40
TOGETHER = Finding("reckon-combinations-together", Severity.NOTE)


def reckon_combinations(
    *,
    rows: Sequence[str],
    step: str | None,
    scale_class: str | None = None,
    accuracy: str | None = None,
) -> Answer:
    """Each of several masses by least squares.

    rows: such as `A + B = 15.02 kg`: what lay on the scale, and what it showed; at most 100.
    step, scale_class, accuracy: of the scale, see `scale_as_typed`.
    Numbers: `mass_NAME_kilogram` and its `within` for each; where rows are to spare `spread_kilogram`, s of
        one row, and `spread_degrees_of_freedom`.
    Raises InputRefused for what cannot be read, and where the rows do not settle every mass.
    Source and left out: `rigs.weighed_in_combinations`.
    """
    scale = scale_as_typed(step, scale_class=scale_class, accuracy=accuracy)
    if not rows:
        raise InputRefused("--row", None, "want-reckon-row")
    if len(rows) > MOST_ROWS:
        raise InputRefused("--row", f"{len(rows)}", "want-fewer-values", most=MOST_ROWS)
    read = [read_row(row, field="--row") for row in rows]
    names = list(dict.fromkeys(name for lying, _ in read for name in lying))
    design = [[int(name in lying) for name in names] for lying, _ in read]
    shown = [kilogram for _, kilogram in read]
    with asked_as("--row", "; ".join(rows)):
        weighed = weighed_in_combinations(scale, design, indications_kilogram=shown)
        masses = dict(zip(names, map(mass_of, weighed.loads), strict=True))
    lines: list[Said] = [
        ("reckon-combinations-mass", {"name": name, "mass": both(mass, KILOGRAM)})
        for name, mass in masses.items()
    ]
    numbers: dict[str, float | str] = {}
    for name, mass in masses.items():
        numbers |= numbered(f"mass_{name}", mass, "kilogram")
    findings = [*elsewhere(scale), TOGETHER]
    spread = weighed.spread_kilogram
    if spread is None:
        lines.append(("reckon-combinations-no-spare", {}))
        return Answer(tuple(lines), numbers, tuple(findings))
    said = figure(Known(spread), KILOGRAM[0], digits=2)
    lines.append(("reckon-combinations-spread", {"spread": said, "spare": str(weighed.dof)}))
    numbers |= {"spread_kilogram": spread, "spread_degrees_of_freedom": float(weighed.dof)}
    if spread > max(map(scale.limit_kilogram, shown)) + scale.step_kilogram / 2:
        findings.insert(0, Finding("reckon-combinations-disagree", Severity.WARN, {"spread": said}))
    return Answer(tuple(lines), numbers, tuple(findings))


def read_row(text: str, *, field: str) -> tuple[tuple[str, ...], float]:
    """What lay on the scale, and what it showed. [kg] Raises InputRefused with the field."""
    left, sign, right = text.partition("=")
    names = tuple(name.strip() for name in left.split("+"))
    if not sign or len(set(names)) < len(names) or not all(map(_is_name, names)):
        raise InputRefused(field, text, "want-reckon-row")
    return names, exact_above_zero(right.strip(), field).base


def _is_name(name: str) -> bool:
    return 0 < len(name) <= LONGEST_NAME and name.isprintable()
