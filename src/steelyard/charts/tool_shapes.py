"""Our own line drawings of the kinds of tool, lying with the drive axis at the left."""

from steelyard.charts.parts import Place, axis_mark
from steelyard.charts.svg import box, disc, line, path

AXIS: Place = (44.0, 92.0)
GRIP_X, BALANCE_X, PIVOT_X, END_X = 282.0, 176.0, 76.0, 340.0
MIDDLE = AXIS[1]


def knurl(x1: float, x2: float, half: float) -> str:
    """The grip: a rounded sleeve with fine cross lines, a gap left for the mark."""
    places = [x1 + 7 * i for i in range(1, int((x2 - x1) / 7))]
    steps = " ".join(
        f"M {x - 2},{MIDDLE - half + 3} L {x + 2},{MIDDLE + half - 3}" for x in places if abs(x - GRIP_X) > 9
    )
    return box(x1, MIDDLE - half, x2 - x1, 2 * half, css="ch-body", round_by=6) + path(steps, css="ch-hatch")


def ratchet_head() -> str:
    """A round head about the axis and the neck to the pivot."""
    neck = box(AXIS[0] + 14, MIDDLE - 9, 30, 18, css="ch-body", round_by=2)
    return neck + disc(*AXIS, 20, css="ch-body") + axis_mark(*AXIS)


def tube(x2: float, half: float = 10) -> str:
    """The body from the pivot to the grip."""
    return box(PIVOT_X - 10, MIDDLE - half, x2 - PIVOT_X + 10, 2 * half, css="ch-body", round_by=3)


def window(x: float, ticks: int = 5) -> str:
    """A scale engraved on the body."""
    steps = " ".join(
        f"M {x + 6 * i},{MIDDLE + 9} L {x + 6 * i},{MIDDLE + (1 if i % 2 == 0 else 4)}" for i in range(ticks)
    )
    return path(steps, css="ch-detail")


def click_wrench(*, scale: bool, cap: bool) -> str:
    """Head that trips about a pivot in a tube. scale: set by turning the grip. cap: by a screw inside."""
    drawn = ratchet_head() + tube(236) + (window(206) if scale else "")
    grip = knurl(232, 326, 14)
    end = box(326, MIDDLE - 11, 12, 22, css="ch-body", round_by=3) if scale else ""
    screw = (
        disc(333, MIDDLE, 7, css="ch-body") + line(329, MIDDLE, 337, MIDDLE, css="ch-detail") if cap else ""
    )
    return drawn + grip + end + screw


def split_beam() -> str:
    """A flat body with a beam that lies split in it, set by a wheel at the side."""
    body = path(
        "M 56,-10 L 74,-13 L 222,-13 L 238,-9 L 238,9 L 222,13 L 74,13 L 56,10 Z",
        css="ch-body",
        at=(0, MIDDLE),
    )
    slot = path("M 96,-3 L 190,-3 M 96,3 L 190,3 M 190,-3 L 190,3", css="ch-detail", at=(0, MIDDLE))
    wheel = disc(212, MIDDLE, 9, css="ch-body") + path("M 212,-6 L 212,0", css="ch-detail", at=(0, MIDDLE))
    return disc(*AXIS, 20, css="ch-body") + body + axis_mark(*AXIS) + slot + wheel + knurl(236, 334, 13)


def break_over() -> str:
    """A body that folds at a joint behind the head when it trips; the folded place is dashed."""
    folded = path(
        f"M {PIVOT_X},{MIDDLE - 9} L 336,{MIDDLE + 30} M {PIVOT_X},{MIDDLE + 9} L 334,{MIDDLE + 48}",
        css="ch-ghost",
    )
    knuckle = disc(PIVOT_X, MIDDLE, 14, css="ch-body")
    return (
        folded
        + box(50, MIDDLE - 8, 26, 16, css="ch-body")
        + tube(240)
        + knuckle
        + disc(*AXIS, 20, css="ch-body")
        + axis_mark(*AXIS)
        + knurl(232, 334, 13)
    )


def slipper_wrench() -> str:
    """A large round head in which a cam slips, and a plain handle."""
    head = disc(*AXIS, 28, css="ch-body") + disc(*AXIS, 20, css="ch-ghost")
    teeth = path("M -20,0 L -15,-3 M 20,0 L 15,3 M 0,-20 L 3,-15 M 0,20 L -3,15", css="ch-detail", at=AXIS)
    neck = box(AXIS[0] + 20, MIDDLE - 10, 180, 20, css="ch-body", round_by=3)
    return neck + head + teeth + axis_mark(*AXIS) + window(196) + knurl(232, 334, 14)


def beam() -> str:
    """A bending beam with a free pointer over a plate, and a handle that rocks on a pin."""
    arm = box(AXIS[0], MIDDLE - 4, 244, 8, css="ch-body")
    plate = path(
        "M 202,-24 L 222,-24 C 228,-10 228,10 222,24 L 202,24 C 208,10 208,-10 202,-24 Z",
        css="ch-body",
        at=(0, MIDDLE),
    )
    ticks = path(
        "M 221,-16 L 213,-15 M 224,-6 L 215,-6 M 224,6 L 215,6 M 221,16 L 213,15",
        css="ch-detail",
        at=(0, MIDDLE),
    )
    pointer = path("M 60,-11 L 196,-11 L 206,-9", css="ch-ring", at=(0, MIDDLE))
    handle = box(246, MIDDLE - 12, 88, 24, css="ch-body", round_by=10)
    pin = disc(GRIP_X, MIDDLE, 5, css="ch-body")
    return plate + ticks + arm + disc(*AXIS, 18, css="ch-body") + axis_mark(*AXIS) + pointer + handle + pin


def dial_wrench() -> str:
    """A body with a round dial over the middle."""
    dial = disc(124, MIDDLE, 25, css="ch-body") + disc(124, MIDDLE, 20, css="ch-detail")
    hand = path(
        "M 124,0 L 136,-12 M 124,-20 L 124,-15 M 144,0 L 139,0 M 104,0 L 109,0 M 124,20 L 124,15",
        css="ch-detail",
        at=(0, MIDDLE),
    )
    return ratchet_head() + tube(240) + dial + hand + knurl(232, 334, 13)


def digits(x: float) -> str:
    """The figures of a display, from x on."""
    steps = "M 0,-6 L 0,6 M 10,-6 L 17,-6 L 17,0 L 10,0 L 10,6 L 17,6 M 27,-6 L 34,-6 L 34,6 L 27,6 Z"
    return path(steps, css="ch-detail", at=(x, MIDDLE))


def electronic_wrench() -> str:
    """A body with a display and two keys."""
    case = box(94, MIDDLE - 17, 70, 34, css="ch-body", round_by=5)
    display = box(99, MIDDLE - 11, 46, 22, css="ch-detail", round_by=2) + digits(105)
    keys = disc(154, MIDDLE - 5, 3, css="ch-dark") + disc(154, MIDDLE + 5, 3, css="ch-dark")
    return ratchet_head() + tube(240) + case + display + keys + knurl(232, 334, 13)


def driver_body() -> str:
    """A driver from the side: bit and shank to the left along the drive axis, handle to the right."""
    bit = path("M 38,0 L 46,-5 L 66,-5 L 66,5 L 46,5 Z", css="ch-body", at=(0, MIDDLE))
    shank = box(66, MIDDLE - 7, 52, 14, css="ch-body", round_by=2)
    upper = "M 118,-16 C 132,-26 148,-28 164,-28 L 262,-28 C 290,-28 306,-18 306,0"
    lower = "C 306,18 290,28 262,28 L 164,28 C 148,28 132,26 118,16 Z"
    return bit + shank + path(f"{upper} {lower}", css="ch-body", at=(0, MIDDLE))


def driver() -> str:
    """A plain driver, its handle fluted."""
    flutes = "M 166,-14 L 250,-14 M 166,0 L 250,0 M 166,14 L 250,14"
    return driver_body() + path(flutes, css="ch-hatch", at=(0, MIDDLE))


def driver_with_collar() -> str:
    """Set by a collar at the end of the handle."""
    ticks = "M 268,-28 L 268,28 M 276,-10 L 286,-10 M 276,0 L 290,0 M 276,10 L 286,10"
    return driver() + path(ticks, css="ch-detail", at=(0, MIDDLE))


def driver_that_slips() -> str:
    """A clutch between shank and handle."""
    return driver() + path("M 134,-22 L 138,-12 L 134,-2 L 138,8 L 134,21", css="ch-detail", at=(0, MIDDLE))


def driver_with_dial() -> str:
    """A round dial on the handle."""
    hand = "M 206,0 L 215,-11 M 206,-16 L 206,-12 M 222,0 L 218,0 M 190,0 L 194,0"
    return driver_body() + disc(206, MIDDLE, 21, css="ch-body") + path(hand, css="ch-detail", at=(0, MIDDLE))


def driver_with_display() -> str:
    """A display in the handle."""
    return driver_body() + box(180, MIDDLE - 13, 58, 26, css="ch-body", round_by=4) + digits(192)
