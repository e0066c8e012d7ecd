"""The quick questions as they stand on a page: their fields in groups, in the order a person is asked."""

from typing import NamedTuple

DIRECTIONS = (
    ("", "reckoned-direction-main"),
    ("cw", "reckoned-direction-cw"),
    ("ccw", "reckoned-direction-ccw"),
)
CLASSES = (("", "reckoned-class-none"), ("III", "reckoned-class-iii"), ("IIII", "reckoned-class-iiii"))
TORQUE, LENGTH, MASS = "torque", "length", "mass"


class Blank(NamedTuple):
    """One field.

    name: of the option it stands for. label, hint: codes. unit: beside it; `torque`, `length` and `mass` are
    those of the workshop. sort: text, area, file, tick or pick; options: of a pick, with codes.
    """

    name: str
    label: str
    hint: str = ""
    unit: str = ""
    sort: str = "text"
    options: tuple[tuple[str, str], ...] = ()


class Group(NamedTuple):
    """Fields that belong together, under a heading where there is one. Both codes."""

    title: str
    hint: str
    blanks: tuple[Blank, ...]


WANTED_OR_SETTING = Group(
    "reckoned-one-of-two",
    "",
    (
        Blank("wanted", "reckoned-wanted", "asking-wanted", TORQUE),
        Blank("setting", "reckoned-setting", "asking-setting", TORQUE),
    ),
)
SCALE_TRUST = Group(
    "reckoned-the-scale",
    "reckoned-the-scale-hint",
    (
        Blank("step", "reckoned-step", "asking-step", "g"),
        Blank("class", "reckoned-class", "", "", "pick", CLASSES),
        Blank("accuracy", "reckoned-accuracy", "asking-accuracy"),
    ),
)
LATITUDE = Blank("latitude", "reckoned-latitude", "asking-latitude", "°")
HEIGHT = Blank("height", "reckoned-height", "asking-height", "m")
A_CHECK = Group(
    "reckoned-a-file",
    "reckoned-a-file-hint",
    (Blank("form", "reckoned-form", "", "", "area"), Blank("file", "reckoned-file", "", "", "file")),
)
WANT = Blank("want", "reckoned-want", "asking-want", TORQUE)
DIRECTION = Blank("direction", "reckoned-direction", "", "", "pick", DIRECTIONS)

QUESTIONS: dict[str, tuple[Group, ...]] = {
    "torque": (
        Group(
            "",
            "",
            (
                Blank("torque", "reckoned-torque", "asking-torque", TORQUE),
                Blank("to", "reckoned-to", "asking-to"),
            ),
        ),
    ),
    "adapter": (
        WANTED_OR_SETTING,
        Group(
            "reckoned-lengths",
            "",
            (
                Blank("tool-length", "reckoned-tool-length", "asking-adapter-tool-length", LENGTH),
                Blank("adapter", "reckoned-adapter", "asking-adapter-adapter", LENGTH),
                Blank("angle", "reckoned-angle", "asking-adapter-angle", "°"),
                Blank("flexes", "reckoned-flexes", "", "", "tick"),
            ),
        ),
    ),
    "insert": (
        WANTED_OR_SETTING,
        Group(
            "reckoned-lengths",
            "",
            (
                Blank("tool-length", "reckoned-tool-length", "asking-insert-tool-length", LENGTH),
                Blank("standoff", "reckoned-standoff", "asking-insert-standoff", LENGTH),
                Blank(
                    "reference-standoff",
                    "reckoned-reference-standoff",
                    "asking-insert-reference-standoff",
                    LENGTH,
                ),
            ),
        ),
    ),
    "hung": (
        Group(
            "reckoned-one-of-two",
            "",
            (
                Blank("load", "reckoned-load", "asking-hung-load", MASS),
                Blank("wanted", "reckoned-wanted", "asking-wanted", TORQUE),
            ),
        ),
        Group(
            "reckoned-the-arm",
            "",
            (
                Blank("arm", "reckoned-arm", "asking-arm", LENGTH),
                Blank("droop", "reckoned-droop", "asking-hung-droop", "°"),
            ),
        ),
        Group(
            "reckoned-own",
            "reckoned-own-hint",
            (
                Blank("own-mass", "reckoned-own-mass", "asking-hung-own-mass", MASS),
                Blank("balance", "reckoned-balance", "asking-hung-balance", LENGTH),
                Blank("own-reading", "reckoned-own-reading", "asking-hung-own-reading", MASS),
                Blank("own-at", "reckoned-own-at", "asking-hung-own-at", LENGTH),
                Blank("own-zero", "reckoned-own-zero", "", "", "tick"),
            ),
        ),
        Group(
            "reckoned-place",
            "reckoned-place-hint",
            (LATITUDE, HEIGHT, Blank("gravity", "reckoned-gravity", "asking-gravity", "m/s²")),
        ),
        Group(
            "reckoned-more",
            "",
            (
                Blank("to", "reckoned-to", "asking-hung-to"),
                Blank("no-buoyancy", "reckoned-no-buoyancy", "", "", "tick"),
            ),
        ),
    ),
    "gravity": (Group("", "", (LATITUDE, HEIGHT)),),
    "mass": (
        Group(
            "reckoned-weighing",
            "reckoned-weighing-hint",
            (
                Blank("with", "reckoned-with", "asking-mass-with", MASS),
                Blank("without", "reckoned-without", "asking-mass-without", MASS),
                Blank("placements", "reckoned-placements", "asking-mass-placements", MASS),
            ),
        ),
        SCALE_TRUST,
    ),
    "combinations": (
        Group("", "", (Blank("row", "reckoned-row", "asking-combinations-row", "", "area"),)),
        SCALE_TRUST,
    ),
    "water": (
        Group(
            "reckoned-the-water",
            "",
            (
                Blank("volume", "reckoned-volume", "asking-water-volume", "L"),
                Blank("temperature", "reckoned-temperature", "asking-water-temperature", "°C"),
                HEIGHT,
                Blank("air-density", "reckoned-air-density", "asking-water-air-density", "kg/m³"),
            ),
        ),
        Group(
            "reckoned-the-scale",
            "reckoned-water-scale-hint",
            (
                Blank("shows", "reckoned-shows", "asking-water-shows", MASS),
                Blank("step", "reckoned-step", "asking-step", "g"),
            ),
        ),
    ),
    "pivot": (
        Group(
            "reckoned-near",
            "",
            (
                Blank("near-load", "reckoned-near-load", "asking-pivot-near-load", MASS),
                Blank("near-arm", "reckoned-near-arm", "asking-pivot-near-arm", LENGTH),
            ),
        ),
        Group(
            "reckoned-far",
            "",
            (
                Blank("far-load", "reckoned-far-load", "asking-pivot-far-load", MASS),
                Blank("far-arm", "reckoned-far-arm", "asking-pivot-far-arm", LENGTH),
            ),
        ),
    ),
    "set-to": (
        Group("", "", (WANT, Blank("tool", "reckoned-tool", "reckoned-tool-hint"), DIRECTION)),
        A_CHECK,
    ),
    "choose": (
        Group("", "", (WANT, Blank("tool", "reckoned-tools", "reckoned-tools-hint"), DIRECTION)),
        A_CHECK,
    ),
}
ABOUT_CHECKS = ("set-to", "choose")
FROM_THE_PLACE = ("gravity", "latitude", "height")


def blanks_of(question: str) -> dict[str, Blank]:
    """The fields of a question by name."""
    return {blank.name: blank for group in QUESTIONS[question] for blank in group.blanks}


def unit_of(blank: Blank, torque_unit: str) -> str:
    """The unit beside a field: inches and pounds where torque is in pounds."""
    in_pounds = torque_unit.startswith("lbf")
    usual = {TORQUE: torque_unit, LENGTH: "in" if in_pounds else "mm", MASS: "lb" if in_pounds else "kg"}
    return usual.get(blank.unit, blank.unit)
