"""The tables [[point]] of the check form: targets and every pull, as typed."""

from dataclasses import dataclass
from decimal import Decimal

from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, Line, Quantity, read_quantities, read_quantity
from steelyard.readings import Pull
from steelyard.records.fields import Fields
from steelyard.records.form_load import read_load
from steelyard.records.kit import HungKit, Kit, TransducerKit
from steelyard.rigs import HungWeight, Load, PullWay, together
from steelyard.tools import Tool

MOST_PULLS = 1000
PLANNED = 5
MIDDLE = Decimal("0.6")


@dataclass(frozen=True)
class PullForm:
    """One pull as written.

    load: what hung; is_sure: an odd reading really was read. loads: each load of it as written.
    arm: the mark where a trial hung, where that is not the kit's own; arm_typed, set_typed: as written.
    """

    pull: Pull
    load: Load | None
    is_sure: bool
    loads: tuple[str, ...] = ()
    arm: Line | None = None
    arm_typed: str | None = None
    set_typed: str | None = None


@dataclass(frozen=True)
class PointForm:
    """One target in one direction.

    load: what hung, where the tool shows the torque; load_typed: as written.
    pull: which way the arm was pulled, where it differs.
    """

    target: Quantity
    direction: str
    load: Load | None
    pulls: tuple[PullForm, ...]
    planned_pulls: int
    pull: PullWay | None = None
    load_typed: str = ""

    @property
    def name(self) -> str:
        """In words: `100 N·m cw`."""
        return f"{self.target.typed} {self.direction}"

    @property
    def is_threshold(self) -> bool:
        """Yes/no trials, or a pull that never clicked: the point is known as a threshold."""
        return any(
            p.pull.is_said and (p.pull.never_clicked or p.pull.clicked is not None) for p in self.pulls
        )


def read_points(fields: Fields, tool: Tool, kit: Kit) -> tuple[PointForm, ...]:
    """All points; each target once per direction, inside the tool's range."""
    tables = fields.tables("point")
    if not tables:
        return default_points(tool)
    points = tuple(_point(table, tool, kit) for table in tables)
    seen = set()
    for table, point in zip(tables, points, strict=True):
        key = (point.target.exact, point.direction)
        if key in seen:
            raise InputRefused(table.name("target"), point.name, "want-new-point")
        seen.add(key)
    return points


def default_points(tool: Tool) -> tuple[PointForm, ...]:
    """Lowest marked value, 60 % and 100 % of the maximum, rising, in each direction.

    Source: ISO 6789-1:2017 (from memory).
    """
    middle = tool.highest.number * MIDDLE
    between = Quantity(f"{middle.normalize():f} {tool.highest.unit.symbol}", middle, tool.highest.unit)
    targets = [tool.lowest, between, tool.highest] if between.exact > tool.lowest.exact else [tool.highest]
    return tuple(
        PointForm(target, direction, None, (), PLANNED) for direction in tool.directions for target in targets
    )


def _point(fields: Fields, tool: Tool, kit: Kit) -> PointForm:
    target = fields.needed(
        "target", lambda f: fields.quantity(f, Dimension.TORQUE), "want-unit", example="100 N·m"
    )
    if not tool.lowest.exact <= target.exact <= tool.highest.exact:
        facts = {"lowest": tool.lowest.typed, "highest": tool.highest.typed}
        raise InputRefused(fields.name("target"), target.typed, "want-target-in-range", **facts)
    direction = fields.text("direction") or tool.directions[0]
    if direction not in tool.directions:
        raise InputRefused(
            fields.name("direction"), direction, "want-direction", names=", ".join(tool.directions)
        )
    load, text = None, ""
    if isinstance(kit, HungKit) and tool.kind.is_indicating:
        text = fields.needed("load", fields.text, "want-load")
        load = _with_always(read_load(text, kit, field=fields.name("load")), kit)
    pulls = _pulls(fields, tool, kit, direction)
    planned = fields.whole("planned_pulls", least=2, most=MOST_PULLS) or PLANNED
    way = fields.choice("pull", PullWay, list(PullWay))
    fields.end()
    return PointForm(target, direction, load, pulls, planned, way, text)


def _with_always(load: Load, kit: HungKit) -> Load:
    return load if kit.always is None else together([load, kit.always])


def _pulls(fields: Fields, tool: Tool, kit: Kit, direction: str) -> tuple[PullForm, ...]:
    given = fields.raw("pulls")
    name = fields.name("pulls")
    if given is None:
        return ()
    weighs = isinstance(kit, HungKit) and not tool.kind.is_indicating
    if isinstance(given, str):
        dimension = Dimension.MASS if weighs else Dimension.TORQUE
        given = [quantity.typed for quantity in read_quantities(given, dimension, field=name)]
    if not isinstance(given, list) or not given:
        raise InputRefused(name, given, "want-pulls")
    if len(given) > MOST_PULLS:
        raise InputRefused(name, f"{len(given)}", "want-fewer-values", most=MOST_PULLS)
    read = []
    for i, item in enumerate(given, 1):
        place = f"{name} {i}"
        if not isinstance(item, dict | str):
            raise InputRefused(place, item, "want-unit", example='"96.1 N·m"')
        pull = Fields(
            {"bucket" if weighs else "reading": item} if isinstance(item, str) else item, place=place
        )
        read.append(
            _hung_pull(pull, kit)
            if isinstance(kit, HungKit) and weighs
            else _read_pull(pull, direction, _zero(kit))
        )
        pull.end()
    return tuple(read)


def _zero(kit: Kit) -> float:
    """What a transducer showed before the pulls. [N m]"""
    return kit.zero_newton_metre if isinstance(kit, TransducerKit) else 0.0


def _read_pull(fields: Fields, direction: str, zero_newton_metre: float) -> PullForm:
    """A torque that was read, the zero taken off; counter-clockwise it may carry a minus."""
    text = fields.needed("reading", fields.text, "want-unit", example="96.1 N·m")
    reading = read_quantity(text, Dimension.TORQUE, field=fields.name("reading")).base
    if direction == "ccw" and reading > 0 and zero_newton_metre != 0:
        raise InputRefused(fields.name("reading"), text, "want-signed-ccw")
    net = reading - zero_newton_metre
    raw = -net if direction == "ccw" and reading < 0 else net
    struck = fields.text("struck_out")
    return PullForm(Pull(text, raw, struck_out=struck), None, fields.flag("sure") or False)


def _hung_pull(fields: Fields, kit: HungKit) -> PullForm:
    """The load at one click: a weighed bucket, or between the last load without and the first with one."""
    struck, sure = fields.text("struck_out"), fields.flag("sure") or False
    never = fields.flag("never_clicked") or False
    if fields.has("clicked"):
        return _trial(fields, kit, struck, is_sure=sure)
    bucket = fields.text("bucket")
    if bucket is not None:
        load = _with_always(_bucket(bucket, kit, fields.name("bucket")), kit)
        raw = load.kilogram
        return PullForm(Pull(bucket, raw, struck_out=struck, never_clicked=never), load, sure, (bucket,))
    without = fields.needed("no_click", fields.text, "want-click-load")
    lower = _with_always(read_load(without, kit, field=fields.name("no_click")), kit)
    if never and not fields.has("click"):
        pull = Pull(without, lower.kilogram, struck_out=struck, never_clicked=True)
        return PullForm(pull, lower, sure, (without,))
    click = fields.needed("click", fields.text, "want-click-load")
    upper = _with_always(read_load(click, kit, field=fields.name("click")), kit)
    half = (upper.kilogram - lower.kilogram) / 2
    if half <= 0:
        raise InputRefused(fields.name("click"), click, "want-rising-load")
    pull = Pull(f"{without} … {click}", upper.kilogram - half, half, struck_out=struck, never_clicked=never)
    return PullForm(pull, upper, sure, (without, click))


def _trial(fields: Fields, kit: HungKit, struck: str | None, *, is_sure: bool) -> PullForm:
    """One yes/no trial: what hung, what the tool was set to, at which mark, and whether it clicked."""
    text = fields.needed("load", fields.text, "want-load")
    load = _with_always(read_load(text, kit, field=fields.name("load")), kit)
    clicked = fields.flag("clicked")
    set_to = fields.quantity("set", Dimension.TORQUE)
    typed = fields.peek("at")
    at = fields.line("at", "arm", Dimension.LENGTH)
    if at is not None and not isinstance(kit.rig, HungWeight):
        raise InputRefused(fields.name("at"), typed, "want-arm-for-mark")
    pull = Pull(
        text,
        load.kilogram,
        struck_out=struck,
        clicked=clicked,
        set_newton_metre=set_to.base if set_to is not None else None,
    )
    set_typed = set_to.typed if set_to is not None else None
    at_typed = str(typed) if at is not None else None
    return PullForm(pull, load, is_sure, (text,), at, at_typed, set_typed)


def _bucket(text: str, kit: HungKit, field: str) -> Load:
    """A weighed bucket, less about half of what may have run in after the click."""
    load = read_load(text, kit, field=field)
    if kit.dribble is None:
        return load
    return Load(load.kilogram - kit.dribble.width, (*load.lines, kit.dribble), load.knowing)
