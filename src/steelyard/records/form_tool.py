"""The tables [tool] and [limit] of the check form."""

import math
from decimal import Decimal

from steelyard.errors import InputRefused
from steelyard.published import published_limit
from steelyard.quantities import Dimension, Line
from steelyard.records.fields import Fields
from steelyard.surroundings import STANDARD_GRAVITY_M_S2
from steelyard.tools import Kind, Limit, Measure, Tool

DIRECTIONS = ("cw", "ccw")


def read_tool(fields: Fields) -> Tool:
    """The tool of a check."""
    number = fields.needed("number", fields.text, "want-tool-number")
    kind = fields.needed(
        "kind", lambda f: fields.choice(f, Kind, list(Kind)), "want-one-of", names=", ".join(Kind)
    )
    lowest = fields.needed(
        "lowest", lambda f: fields.quantity(f, Dimension.TORQUE), "want-unit", example="20 N·m"
    )
    highest = fields.needed(
        "highest", lambda f: fields.quantity(f, Dimension.TORQUE), "want-unit", example="100 N·m"
    )
    if highest.exact < lowest.exact:
        raise InputRefused(fields.name("highest"), highest.typed, "want-range", lowest=lowest.typed)
    is_own_mass_whole = fields.has("balance_point")
    own_mass, own_arm, own_by_force = _own_weight(fields)
    is_zeroed = fields.flag("zeroed") or False
    if is_zeroed and not kind.is_indicating:
        raise InputRefused(fields.name("zeroed"), "true", "want-indicating-to-zero")
    scatter = fields.quantity("expected_scatter", Dimension.RATIO)
    tool = Tool(
        number=number,
        kind=kind,
        make=fields.text("make"),
        lowest=lowest,
        highest=highest,
        step_newton_metre=_step(fields, kind),
        directions=_directions(fields),
        grip_mark=fields.line("grip_mark", "grip-mark", Dimension.LENGTH),
        length_independent=fields.flag("length_independent"),
        pivot=fields.line("pivot", "pivot", Dimension.LENGTH, above_zero=False),
        mass=fields.line("mass", "tool-mass", Dimension.MASS) or (own_mass if is_own_mass_whole else None),
        own_mass=own_mass,
        own_arm=own_arm,
        own_by_force=own_by_force,
        is_zeroed=is_zeroed,
        is_set_each_time=fields.flag("set_each_time") or False,
        beam_scale=fields.line("beam_scale", "beam-scale", Dimension.LENGTH),
        expected_scatter_ratio=scatter.base if scatter is not None else None,
    )
    fields.end()
    return tool


def _step(fields: Fields, kind: Kind) -> float | None:
    step = fields.quantity("graduation", Dimension.TORQUE)
    if step is None and (kind.is_adjustable or kind.is_indicating):
        raise InputRefused(fields.name("graduation"), None, "want-step")
    return step.base if step is not None else None


def _directions(fields: Fields) -> tuple[str, ...]:
    given = fields.raw("directions")
    if given is None:
        return (DIRECTIONS[0],)
    wanted = ", ".join(DIRECTIONS)
    if not isinstance(given, list) or not given or any(d not in DIRECTIONS for d in given):
        raise InputRefused(fields.name("directions"), given, "want-one-of", names=f"[{wanted}]")
    return tuple(dict.fromkeys(given))


def _own_weight(fields: Fields) -> tuple[Line | None, Line | None, bool]:
    """Mass and balance point, or a reading under the handle, or a moment; and whether by force."""
    if fields.has("own_reading"):
        reading = fields.line("own_reading", "own-mass", Dimension.MASS, above_zero=False)
        place = fields.needed(
            "own_reading_at",
            lambda f: fields.line(f, "own-arm", Dimension.LENGTH),
            "want-unit",
            example="420 mm",
        )
        return reading, place, fields.choice("own_reading_knows", str, ["mass", "force"]) == "force"
    if fields.has("own_weight"):
        moment = fields.line("own_weight", "own-mass", Dimension.TORQUE, above_zero=False)
        if moment is not None:
            per_metre = Line(
                "own-mass",
                moment.value / STANDARD_GRAVITY_M_S2,
                moment.width / STANDARD_GRAVITY_M_S2,
                moment.shape,
                unit="kg",
            )
            return per_metre, Line("own-arm", 1.0, unit="m"), False
    if fields.has("balance_point"):
        arm = fields.line("balance_point", "own-arm", Dimension.LENGTH, above_zero=False)
        mass = fields.needed(
            "mass", lambda f: fields.line(f, "own-mass", Dimension.MASS), "want-unit", example="1.300 kg"
        )
        return mass, arm, False
    return None, None, False


def read_limit(fields: Fields, tool: Tool) -> Limit:
    """The limit a tool is held to; none is ever taken silently."""
    code = fields.text("published")
    if code is not None:
        fields.end()
        return _published(code, tool)
    percent = _percent(fields, "percent")
    if percent is None:
        raise InputRefused("limit", None, "want-limit")
    of = fields.choice("of", str, ["reading", "full-scale"]) or "reading"
    convention = fields.choice("convention", str, ["iso", "applied"]) or "iso"
    small = _percent(fields, "small_percent")
    up_to = fields.quantity("small_up_to", Dimension.TORQUE)
    if small is None and up_to is not None:
        raise InputRefused(fields.name("small_percent"), None, "want-number")
    if small is not None and up_to is None:
        raise InputRefused(fields.name("small_up_to"), None, "want-unit", example="10 N·m")
    limit = Limit(
        percent=percent,
        measure=_measure(of, convention),
        source=fields.needed("source", fields.text, "want-limit-source"),
        small_percent=small,
        small_up_to_newton_metre=_decimal(up_to.base) if up_to is not None else None,
        split_by_point=fields.choice("split_by", str, ["tool-maximum", "point"]) == "point",
        other_direction_percent=_percent(fields, "other_direction_percent"),
        from_percent_of_maximum=_percent(fields, "from_percent_of_maximum"),
    )
    fields.end()
    return limit


def _percent(fields: Fields, name: str) -> Decimal | None:
    percent = fields.number(name)
    if percent is not None and not (0 < percent <= 100 and math.isfinite(percent)):
        raise InputRefused(fields.name(name), percent, "want-between", least=0, most=100, unit="%")
    return percent


def _decimal(value: float) -> Decimal:
    return Decimal(f"{value:.12g}")


def _measure(of: str, convention: str) -> Measure:
    return {
        ("reading", "iso"): Measure.ISO,
        ("reading", "applied"): Measure.APPLIED,
        ("full-scale", "iso"): Measure.FULL_SCALE_ISO,
        ("full-scale", "applied"): Measure.FULL_SCALE_APPLIED,
    }[of, convention]


def _published(code: str, tool: Tool) -> Limit:
    row = published_limit(code, tool_kind=tool.kind.value)
    seen = row.clause_or_memory
    return Limit(
        percent=row.percent,
        measure=_measure(row.of, row.convention),
        source=f"{row.document}, {row.edition} ({seen})",
        small_percent=row.small_percent,
        small_up_to_newton_metre=row.small_up_to_newton_metre,
        split_by_point=row.split_by == "point",
        other_direction_percent=row.other_direction_percent,
        from_percent_of_maximum=row.from_percent_of_maximum,
        published=code,
    )
