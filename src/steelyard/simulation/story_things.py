"""The rack and the rigs of the demo workshop, as they were typed in; every one of them is invented."""

from collections.abc import Mapping

from steelyard.simulation.story_shape import Texts

OWN_LIMIT: Texts = {
    "limit.published": "own",
    "limit.percent": "4",
    "limit.source": "our own list, as the maker's sheet says",
}

RIGS: Mapping[str, tuple[str, Texts]] = {
    "S-1": ("scale", {"step": "100", "knows": "force", "notes": "Body-type, from the locker room."}),
    "S-2": ("scale", {"step": "5", "knows": "mass", "within": "10", "notes": "Kitchen scale."}),
    "M-10": ("mass", {"value": "10 kg ± 10 g"}),
    "M-5": ("mass", {"value": "5 kg ± 5 g"}),
    "M-2": ("mass", {"value": "2 kg ± 4 g"}),
    "M-1": ("mass", {"value": "1 kg ± 2 g"}),
    "B-200": ("mass", {"value": "200 g ± 1 g"}),
    "B-100": ("mass", {"value": "100 g ± 1 g"}),
    "HOOK": ("mass", {"value": "310 g ± 2 g", "notes": "Weighed on S-2 with the cord."}),
    "W-1": ("hung-weight", {"material": "cast-iron", "notes": "In the vice by the big door."}),
    "A-1": ("transducer", {"resolution": "0.1", "stated_of_reading": "0.5"}),
}
"""Sort and fields by name; what is bought later stands apart."""

R_1: Texts = {
    "name": "R-1",
    "resolution": "0.001",
    "drift": "0.1",
    "notes": "For the small ones, up to 10 N·m.",
    "paper.certificate": "TPB-0042",
    "paper.laboratory": "an invented laboratory",
    "paper.states": "error",
    "paper.worked_shows": "5.00",
    "paper.worked_true": "4.99",
    "row1_at": "0.5",
    "row1_stated": "0.30",
    "row1_U": "0.25",
    "row2_at": "5",
    "row2_stated": "0.20",
    "row2_U": "0.20",
    "row3_at": "10",
    "row3_stated": "0.10",
    "row3_U": "0.20",
}
R_1_DAYS: Mapping[str, int] = {"paper.issued": -344, "paper.due": 21}


def _tool(number: str, kind: str, *, lowest: str, highest: str, graduation: str = "", **more: str) -> Texts:
    ends = {"number": number, "kind": kind, "lowest": lowest, "highest": highest}
    return {**OWN_LIMIT, **ends, "graduation": graduation, **more}


_TOOLS = (
    _tool(
        "T-01",
        "click-adjustable",
        lowest="20",
        highest="100",
        graduation="1",
        set_each_time="yes",
        grip_mark="450 mm ± 2 mm",
        mass="1.300 kg ± 5 g",
        balance_point="220 mm ± 3 mm",
        notes="Keel bolts.",
        store_rule="Wind it down to 20 N·m and hang it up dry.",
    ),
    _tool("T-02", "electronic", lowest="10", highest="135", graduation="0.1", notes="New this month."),
    _tool(
        "T-03",
        "click-adjustable",
        lowest="40",
        highest="200",
        graduation="1",
        notes="Trailer and slip wheels.",
    ),
    _tool("T-04", "click-adjustable", lowest="20", highest="100", graduation="1"),
    _tool(
        "T-05", "click-adjustable", lowest="10", highest="50", graduation="0.5", notes="Outboard brackets."
    ),
    _tool("T-06", "split-beam", lowest="60", highest="300", graduation="2", notes="Shaft couplings."),
    _tool(
        "T-07",
        "beam",
        lowest="10",
        highest="60",
        graduation="1",
        grip_mark="300 mm",
        notes="Bicycle corner.",
        **{"limit.percent": "6"},
    ),
    _tool("T-08", "dial", lowest="20", highest="140", graduation="1", notes="Goes out to the slip."),
    _tool("T-09", "click-adjustable", lowest="5", highest="25", graduation="0.1"),
    _tool("T-10", "click-preset", lowest="25", highest="25", notes="Spark plugs."),
    {
        **_tool("T-11", "driver-adjustable", lowest="1", highest="6", graduation="0.05"),
        "directions": "cw,ccw",
        "limit.published": "iso-6789-1-2017",
        "limit.percent": "",
        "limit.source": "",
        "notes": "Instrument panel.",
    },
    _tool("T-12", "click-adjustable", lowest="10", highest="60", graduation="0.5"),
    _tool(
        "T-13",
        "click-adjustable",
        lowest="20",
        highest="60",
        graduation="0.5",
        set_each_time="yes",
        grip_mark="450 mm ± 2 mm",
        mass="1.100 kg ± 5 g",
        balance_point="200 mm ± 3 mm",
        notes="Second-hand; the adjuster sits behind a lock nut in the grip.",
    ),
)
TOOLS: Mapping[str, Texts] = {tool["number"]: tool for tool in _TOOLS}
"""Fields by number."""
