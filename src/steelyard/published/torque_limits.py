"""Published limits for hand torque tools: which document gives which kind of tool how much room."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from steelyard.errors import InputRefused

CLICK_WRENCHES = ("click-adjustable", "click-preset", "click-no-scale")
SETTING_WRENCHES = (*CLICK_WRENCHES, "split-beam", "break-over", "slipper-wrench")
SETTING_DRIVERS = ("slipper-driver", "driver-adjustable", "driver-preset")
INDICATING_DRIVERS = ("driver-dial", "driver-electronic")
INDICATING_WRENCHES = ("dial", "beam", "electronic")
TOOL_KINDS = (*SETTING_WRENCHES, *SETTING_DRIVERS, *INDICATING_DRIVERS, *INDICATING_WRENCHES)
"""Every kind of tool the tables know."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedLimit:
    """What one document allows some kinds of tools.

    code: how a person chooses it; the same for all rows of one document.
    clause_or_memory: where it stands there, or "memory" where it is recalled; `seen`: the figures were read.
    percent: the limit to either side. [%]
    small_percent: in place of it up to and including `small_up_to_newton_metre`. [%], [N m]; None: no such
        rule
    split_by: whether the tool's maximum or the point itself is compared with `small_up_to_newton_metre`.
    of: percent of the reading at the point, or of full scale.
    convention: iso (X − T)/T, or applied (T − X)/X; X set or shown, T the reference.
    other_direction_percent: against the direction of use. [%]; None: `percent` holds there too
    from_percent_of_maximum: below this part of the tool's maximum nothing is required. [%]; None: everywhere
    """

    code: str
    document: str
    edition: str
    clause_or_memory: str
    seen: bool
    tool_kinds: tuple[str, ...]
    percent: Decimal
    small_percent: Decimal | None = None
    small_up_to_newton_metre: Decimal | None = None
    split_by: Literal["tool-maximum", "point"] = "tool-maximum"
    of: Literal["reading", "full-scale"] = "reading"
    convention: Literal["iso", "applied"]
    other_direction_percent: Decimal | None = None
    from_percent_of_maximum: Decimal | None = None


LIMITS = (
    PublishedLimit(
        code="iso-6789-1-2017",
        document="ISO 6789-1",
        edition="2017",
        clause_or_memory="memory",
        seen=False,
        tool_kinds=(*SETTING_WRENCHES, "dial", "electronic", "driver-electronic"),
        percent=Decimal(4),
        small_percent=Decimal(6),
        small_up_to_newton_metre=Decimal(10),
        convention="iso",
    ),
    PublishedLimit(
        code="iso-6789-1-2017",
        document="ISO 6789-1",
        edition="2017",
        clause_or_memory="memory",
        seen=False,
        tool_kinds=(*SETTING_DRIVERS, "driver-dial", "beam"),
        percent=Decimal(6),
        convention="iso",
    ),
    PublishedLimit(
        code="asme-style",
        document="SAE AS28431 (formerly GGG-W-2843)",
        edition="A",
        clause_or_memory="read in extracts, clause not known; 20 % from TM 1-1500-204-23-9, table 8-1",
        seen=True,
        tool_kinds=SETTING_WRENCHES,
        percent=Decimal(4),
        convention="applied",
        other_direction_percent=Decimal(6),
        from_percent_of_maximum=Decimal(20),
    ),
    PublishedLimit(
        code="as-4115",
        document="AS 4115",
        edition="not known",
        clause_or_memory="as quoted by a laboratory, clause not known",
        seen=True,
        tool_kinds=(*SETTING_WRENCHES, *INDICATING_WRENCHES),
        percent=Decimal(4),
        convention="iso",
    ),
    PublishedLimit(
        code="common-practice",
        document="common practice, no document",
        edition="",
        clause_or_memory="as told by calibrators in forums and handbooks",
        seen=True,
        tool_kinds=(*SETTING_WRENCHES, *INDICATING_WRENCHES),
        percent=Decimal(4),
        convention="applied",
        from_percent_of_maximum=Decimal(20),
    ),
)


def published_limit_codes() -> tuple[str, ...]:
    """The codes to choose among, each once."""
    return tuple(dict.fromkeys(limit.code for limit in LIMITS))


def published_limit(code: str, *, tool_kind: str) -> PublishedLimit:
    """What the document behind a code allows one kind of tool.

    code: one of `published_limit_codes`.
    tool_kind: one of `TOOL_KINDS`.
    Raises InputRefused for another code, another kind, or a kind the document does not cover.
    Source: beside each entry.
    """
    rows = [limit for limit in LIMITS if limit.code == code]
    if not rows:
        raise InputRefused("limit", code, "want-one-of", names=", ".join(published_limit_codes()))
    if tool_kind not in TOOL_KINDS:
        raise InputRefused("tool, kind", tool_kind, "want-one-of", names=", ".join(TOOL_KINDS))
    for limit in rows:
        if tool_kind in limit.tool_kinds:
            return limit
    covered = ", ".join(kind for limit in rows for kind in limit.tool_kinds)
    raise InputRefused("tool, kind", tool_kind, "want-covered-kind", document=rows[0].document, names=covered)
