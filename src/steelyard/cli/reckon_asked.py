"""From the options of a question of `steelyard reckon` to the desk."""

import argparse
from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from steelyard.cli.files import read_file
from steelyard.errors import InputRefused

if TYPE_CHECKING:
    from steelyard.desk.reckon import Answer


def _torque(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_torque

    return reckon_torque(" ".join(args.text), unit=args.to)


def _adapter(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_adapter

    return reckon_adapter(
        tool_length=args.tool_length,
        adapter=args.adapter,
        angle=args.angle,
        wanted=args.wanted,
        setting=args.setting,
        flexes=args.flexes,
    )


def _insert(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_insert

    return reckon_insert(
        tool_length=args.tool_length,
        standoff=args.standoff,
        reference_standoff=args.reference_standoff,
        wanted=args.wanted,
        setting=args.setting,
    )


def _hung(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import HungQuestion, reckon_hung

    question = HungQuestion(
        load=args.load,
        wanted=args.wanted,
        arm=args.arm,
        own_mass=args.own_mass,
        balance=args.balance,
        own_reading=args.own_reading,
        own_at=args.own_at,
        own_zero=args.own_zero,
        gravity=args.gravity,
        latitude=args.latitude,
        height=args.height,
        droop=args.droop,
        buoyancy=not args.no_buoyancy,
        unit=args.to,
    )
    return reckon_hung(question)


def _gravity(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_gravity

    return reckon_gravity(latitude=args.latitude, height=args.height)


def _mass(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_mass

    return reckon_mass(
        step=args.step,
        with_it=getattr(args, "with"),
        without_it=args.without,
        placements=args.placements,
        scale_class=getattr(args, "class"),
        accuracy=args.accuracy,
    )


def _water(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_water

    return reckon_water(
        volume=args.volume,
        temperature=args.temperature,
        height=args.height,
        air_density=args.air_density,
        shows=args.shows,
        step=args.step,
    )


def _combinations(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_combinations

    return reckon_combinations(
        rows=args.row or (),
        step=args.step,
        scale_class=getattr(args, "class"),
        accuracy=args.accuracy,
    )


def _pivot(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_pivot

    return reckon_pivot(
        near_load=args.near_load, near_arm=args.near_arm, far_load=args.far_load, far_arm=args.far_arm
    )


def _set_to(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_set_to

    return reckon_set_to(
        read_file(args.file), want=args.want, today=_today(args.today), direction=args.direction
    )


def _choose(args: argparse.Namespace) -> "Answer":
    from steelyard.desk.reckon import reckon_choose

    return reckon_choose(
        [read_file(name) for name in args.file],
        want=args.want,
        today=_today(args.today),
        direction=args.direction,
    )


def _today(text: str | None) -> date:
    """The day that was typed, or the one on the clock here."""
    if text is None:
        return datetime.now(UTC).astimezone().date()
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise InputRefused("--today", text, "want-date") from None


ASKED: dict[str, Callable[[argparse.Namespace], "Answer"]] = {
    "torque": _torque,
    "adapter": _adapter,
    "insert": _insert,
    "hung": _hung,
    "gravity": _gravity,
    "mass": _mass,
    "combinations": _combinations,
    "water": _water,
    "pivot": _pivot,
    "set-to": _set_to,
    "choose": _choose,
}
