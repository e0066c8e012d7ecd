"""The check form: one check in TOML, `steelyard_check = 1`. Every field: docs/reference/file-form.md."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from steelyard.errors import InputRefused
from steelyard.evaluation import DRAWS, Rule
from steelyard.quantities import Dimension, Line, Quantity, Shape, read_quantities
from steelyard.records.fields import Fields
from steelyard.records.form_kit import read_kit
from steelyard.records.form_place import Place, read_place
from steelyard.records.form_points import PointForm, read_points
from steelyard.records.form_tool import read_limit, read_tool
from steelyard.records.form_turns import TurnForm, read_turn_tables
from steelyard.records.kit import Kit
from steelyard.tools import Limit, Tool

FORM = 1
LARGEST_BYTES = 1_000_000
FEWEST_DRAWS, MOST_DRAWS = 10_000, 10_000_000
SEED = 1
VARIATIONS = ["reproducibility", "drive", "interface", "loading-point"]
COMBINE = ["excess", "iso-sum"]


@dataclass(frozen=True)
class Variation:
    """How much the tool's readings vary with something that was changed on purpose.

    means: of each set, at one target. [N m]; combine: `excess` variance over s²/n, or `iso-sum` (range/2√3).
    pulls_each: readings in each set.
    """

    name: str
    means: tuple[Quantity, ...]
    combine: str
    pulls_each: int


@dataclass(frozen=True)
class CheckForm:
    """One check as written, every quantity as typed."""

    title: str | None
    day: date
    person: str | None
    notes: str | None
    place: Place
    tool: Tool
    limit: Limit
    rule: Rule
    kit: Kit
    points: tuple[PointForm, ...]
    extras: tuple[Line, ...]
    variations: tuple[Variation, ...]
    exercise_pulls: int | None
    load_seconds: float | None
    seed: int
    draws: int
    turns: tuple[TurnForm, ...] = ()


def read_check(content: bytes) -> CheckForm:
    """The check in a file.

    content: of the file, at most 1 MB of UTF-8 TOML.
    Raises InputRefused with field, value and what is wanted.
    """
    return read_table(form_table(content))


def read_table(table: Mapping[str, object]) -> CheckForm:
    """The check in a table that was read already.

    Raises InputRefused with field, value and what is wanted.
    """
    fields = Fields(table, place="")
    number = fields.raw("steelyard_check")
    if type(number) is not int or number != FORM:
        raise InputRefused("steelyard_check", number, "want-form-number")
    title, person, notes = fields.text("title"), fields.text("person"), fields.text("notes")
    day = fields.needed("date", fields.day, "want-date")
    place = read_place(fields.inner("place"))
    tool = read_tool(fields.inner("tool"))
    limit = read_limit(fields.inner("limit"), tool)
    rule = fields.choice("rule", Rule, list(Rule)) or Rule.GUARDED
    seed = fields.whole("seed", least=0, most=2**32 - 1)
    kit = read_kit(fields.inner("kit"), tool, place)
    points = read_points(fields, tool, kit)
    form = CheckForm(
        title=title,
        day=day,
        person=person,
        notes=notes,
        place=place,
        tool=tool,
        limit=limit,
        rule=rule,
        kit=kit,
        points=points,
        extras=tuple(_extra(table) for table in fields.tables("extra")),
        variations=tuple(_variation(table) for table in fields.tables("variation")),
        exercise_pulls=fields.whole("exercise_pulls", least=0, most=1000),
        load_seconds=_seconds(fields),
        seed=SEED if seed is None else seed,
        draws=fields.whole("draws", least=FEWEST_DRAWS, most=MOST_DRAWS) or DRAWS,
        turns=read_turn_tables(fields, tool, kit, points),
    )
    fields.end()
    return form


def form_table(content: bytes) -> dict[str, object]:
    """The tables of a file, not yet looked at. Raises InputRefused where it is no TOML or too large."""
    if len(content) > LARGEST_BYTES:
        raise InputRefused("the file", f"{len(content)} bytes", "want-smaller-file")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        raise InputRefused("the file", f"byte {trouble.start}", "want-utf8") from None
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as trouble:
        reason = re.sub(r"\s+", " ", str(trouble))[:100]
        raise InputRefused("the file", None, "want-toml", reason=reason) from None


def _seconds(fields: Fields) -> float | None:
    time = fields.quantity("load_time", Dimension.DURATION)
    return time.base if time is not None else None


def _extra(fields: Fields) -> Line:
    """A line of one's own: a ± in percent of the torque, such as the tool's temperature."""
    name = fields.needed("name", fields.text, "want-text")
    within = fields.needed(
        "within", lambda f: fields.quantity(f, Dimension.RATIO), "want-unit", example="0.2 %"
    )
    shared = fields.flag("shared")
    fields.end()
    return Line("extra", 0.0, within.base, Shape.RECTANGULAR, shared=shared is not False, detail=name)


def _variation(fields: Fields) -> Variation:
    name = fields.needed(
        "name", lambda f: fields.choice(f, str, VARIATIONS), "want-one-of", names=", ".join(VARIATIONS)
    )
    text = fields.needed("means", fields.text, "want-unit", example="100.9 101.2 100.7 N·m")
    means = read_quantities(text, Dimension.TORQUE, field=fields.name("means"))
    if len(means) < 2 or any(mean.base <= 0 for mean in means):
        raise InputRefused(fields.name("means"), text, "want-two-means")
    combine = fields.choice("combine", str, COMBINE) or "excess"
    each = fields.whole("pulls_each", least=1, most=1000) or 5
    fields.end()
    return Variation(name, means, combine, each)
