"""`steelyard reckon`: quick answers, said in words or as JSON."""

import argparse
from typing import TYPE_CHECKING

from steelyard.cli.reckon_asked import ASKED
from steelyard.cli.reckon_options import BASE_OPTIONS, PLACED, QUESTIONS, REPEATED, SWITCHES

if TYPE_CHECKING:
    from steelyard.desk.reckon import Answer


EXAMPLE = "Each value stands with its unit; a ± is typed as “450 mm ± 1 mm” or “20 kg ± 0.5 %”."


def arguments(parser: argparse.ArgumentParser) -> None:
    """Add one command for each question."""
    commands = parser.add_subparsers(dest="question", metavar="QUESTION", required=True)
    for name, (help_text, options) in QUESTIONS.items():
        command = commands.add_parser(
            name, help=help_text, description=help_text, epilog=EXAMPLE, allow_abbrev=False
        )
        if name in PLACED:
            placed, meaning, count = PLACED[name]
            command.add_argument(placed, nargs=count, metavar=placed.upper(), help=meaning)
        for option, meaning in options.items():
            action = "append" if option in REPEATED else "store"
            said = meaning or BASE_OPTIONS[option]
            command.add_argument(option, dest=_place(option), metavar="…", action=action, help=said)
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
