"""`steelyard reckon`: quick answers, said in words or as JSON."""

import argparse
from typing import TYPE_CHECKING

from steelyard.cli.reckon_asked import ask, place
from steelyard.cli.reckon_options import PLACED, QUESTIONS, REPEATED, SWITCHES
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.desk.reckon import Answer


def arguments(parser: argparse.ArgumentParser) -> None:
    """Add one command for each question."""
    commands = parser.add_subparsers(dest="question", metavar="QUESTION", required=True)
    for name, options in QUESTIONS.items():
        about = say(f"asking-about-{name}")
        command = commands.add_parser(
            name, help=about, description=about, epilog=say("asking-example"), allow_abbrev=False
        )
        if name in PLACED:
            placed, meaning, count = PLACED[name]
            command.add_argument(placed, nargs=count, metavar=placed.upper(), help=_help(meaning))
        for option, meaning in options.items():
            action = "append" if option in REPEATED else "store"
            command.add_argument(option, dest=place(option), metavar="…", action=action, help=_help(meaning))
        for switch, meaning in SWITCHES.get(name, {}).items():
            command.add_argument(switch, dest=place(switch), action="store_true", help=_help(meaning))
        command.add_argument("--json", action="store_true", help=_help("asking-option-json"))


def _help(code: str) -> str:
    """The sentence of a code as argparse takes it, which reads per cent signs itself."""
    return say(code).replace("%", "%%")


def answer(args: argparse.Namespace) -> int:
    """Answer the question and print it. Returns the exit code 0; a refusal goes on to the caller."""
    reply = ask(args)
    print(as_json(reply) if args.json else in_words(reply))
    return 0


def in_words(reply: "Answer") -> str:
    """The answer as sentences, one a line; what to mind stands below, set apart."""
    said = [say(code, **facts) for code, facts in reply.lines]
    minded = [f"- {say(finding.code, **finding.facts)}" for finding in reply.findings]
    return "\n".join([*said, *([""] if minded else []), *minded])


def as_json(reply: "Answer") -> str:
    """The answer for a machine: unrounded numbers, and the same sentences."""
    import json

    findings = [
        {"code": each.code, "severity": each.severity.value, "sentence": say(each.code, **each.facts)}
        for each in reply.findings
    ]
    said = [say(code, **facts) for code, facts in reply.lines]
    content = {"numbers": dict(reply.numbers), "sentences": said, "findings": findings}
    return json.dumps(content, ensure_ascii=False, indent=2)
