"""`steelyard reckon`: quick answers, said in words or as JSON."""

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from steelyard.desk.reckon import Answer

HELP = "quick answers: torque units, adapters, hung loads, gravity, scales"

EXAMPLE = "Each value stands with its unit; a ± is typed as “450 mm ± 1 mm” or “20 kg ± 0.5 %”."
WITHIN = "May carry a ±."
BASE_OPTIONS: dict[str, str] = {
    "--arm": f"drive axis to the mark where the load hangs. {WITHIN}",
    "--gravity": "such as 9.81 m/s², or the word standard",
    "--latitude": "of the place, such as 51.5 or 33.9 S",
    "--height": "of the place above sea level, such as 35 m",
    "--wanted": f"the torque you want. {WITHIN}",
    "--setting": f"what the tool is set to. {WITHIN}",
    "--step": "step of the scale's display, such as 100 g",
}
QUESTIONS: dict[str, tuple[str, dict[str, str]]] = {
    "torque": (
        "a torque in other units",
        {"--to": "the unit wanted; without it all of them"},
    ),
    "adapter": (
        "what to set with an adapter between tool and bolt",
        {
            "--wanted": "",
            "--setting": "",
            "--tool-length": f"drive axis to the grip mark. {WITHIN}",
            "--adapter": f"drive axis to the bolt. {WITHIN}",
            "--angle": "between tool and adapter: 0° straight out (also when left out), 180° folded back",
        },
    ),
    "insert": (
        "what to set with another insert head",
        {
            "--wanted": "",
            "--setting": "",
            "--tool-length": f"bolt to the grip mark, with the insert the tool was adjusted with. {WITHIN}",
            "--standoff": f"seat to bolt of this insert. {WITHIN}",
            "--reference-standoff": f"the same of the insert the tool was adjusted with. {WITHIN}",
        },
    ),
    "hung": (
        "the torque of a hung load, or the load for a torque",
        {
            "--load": f"mass of all that hangs, hook and rope included. {WITHIN}",
            "--wanted": "",
            "--arm": "",
            "--own-mass": f"mass of the tool. {WITHIN}",
            "--balance": f"drive axis to the tool's balance point. {WITHIN}",
            "--own-reading": f"what a scale under the level tool shows. {WITHIN}",
            "--own-at": f"drive axis to where that scale carries it. {WITHIN}",
            "--gravity": "",
            "--latitude": "",
            "--height": "",
            "--droop": f"of the arm below level, under load; level when left out. {WITHIN}",
            "--to": "unit of the torque in the answer",
        },
    ),
    "gravity": ("gravity at a place", {"--latitude": "", "--height": ""}),
    "mass": (
        "a mass weighed with and without",
        {
            "--step": "",
            "--with": "what the scale shows with the load",
            "--without": "what it shows without",
            "--class": "in the oval on the scale: III or IIII",
            "--accuracy": "stated, such as 0.1 %% + 50 g, or the word household",
        },
    ),
    "water": (
        "check a scale with a known volume of water",
        {
            "--volume": f"of the water. {WITHIN}",
            "--temperature": f"of the water. {WITHIN}",
            "--height": "",
            "--air-density": "in place of the height",
            "--shows": "what the scale shows, the vessel taken off",
            "--step": "",
        },
    ),
}
SWITCHES: dict[str, dict[str, str]] = {
    "adapter": {"--flexes": "there is a flex joint in between"},
    "hung": {
        "--own-zero": "leave the tool's own weight out on purpose",
        "--no-buoyancy": "leave the lift of the air out",
    },
}


def arguments(parser: argparse.ArgumentParser) -> None:
    """Add one command for each question."""
    commands = parser.add_subparsers(dest="question", metavar="QUESTION", required=True)
    for name, (help_text, options) in QUESTIONS.items():
        command = commands.add_parser(
            name, help=help_text, description=help_text, epilog=EXAMPLE, allow_abbrev=False
        )
        if name == "torque":
            command.add_argument("text", nargs="+", help="such as 80 ft-lb")
        for option, meaning in options.items():
            command.add_argument(
                option, dest=_place(option), metavar="…", help=meaning or BASE_OPTIONS[option]
            )
        for switch, meaning in SWITCHES.get(name, {}).items():
            command.add_argument(switch, dest=_place(switch), action="store_true", help=meaning)
        command.add_argument("--json", action="store_true", help="numbers and sentences as JSON")


def _place(option: str) -> str:
    """The attribute of an option."""
    return option.removeprefix("--").replace("-", "_")


def answer(args: argparse.Namespace) -> int:
    """Answer the question and print it. Returns the exit code 0; a refusal goes on to the caller."""
    reply = ASKED[args.question](args)
    print(as_json(reply) if args.json else in_words(reply))
    return 0


def in_words(reply: "Answer") -> str:
    """The answer as sentences, one a line; what to mind stands below, set apart."""
    from steelyard.words import say

    said = [say(code, **facts) for code, facts in reply.lines]
    minded = [f"- {say(finding.code, **finding.facts)}" for finding in reply.findings]
    return "\n".join([*said, *([""] if minded else []), *minded])


def as_json(reply: "Answer") -> str:
    """The answer for a machine: unrounded numbers, and the same sentences."""
    import json

    from steelyard.words import say

    findings = [
        {"code": each.code, "severity": each.severity.value, "sentence": say(each.code, **each.facts)}
        for each in reply.findings
    ]
    said = [say(code, **facts) for code, facts in reply.lines]
    content = {"numbers": dict(reply.numbers), "sentences": said, "findings": findings}
    return json.dumps(content, ensure_ascii=False, indent=2)


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


ASKED: dict[str, Callable[[argparse.Namespace], "Answer"]] = {
    "torque": _torque,
    "adapter": _adapter,
    "insert": _insert,
    "hung": _hung,
    "gravity": _gravity,
    "mass": _mass,
    "water": _water,
}
