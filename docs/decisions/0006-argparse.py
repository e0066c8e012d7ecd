"""Evidence for 0006-argparse.md: the start of a command line with a dozen trivial commands."""

import importlib.util
import subprocess
import sys
import timeit

COMMANDS = tuple(f"command{n}" for n in range(12))
BARE = "pass"
ARGPARSE = f"""
import argparse
parser = argparse.ArgumentParser("trivial")
commands = parser.add_subparsers()
for name in {COMMANDS!r}:
    commands.add_parser(name, help="do " + name).add_argument("file")
parser.parse_args(["--help"])
"""
TYPER = f"""
import typer
app = typer.Typer(rich_markup_mode=None, add_completion=False)
for name in {COMMANDS!r}:
    def command(file: str) -> None: ...
    app.command(name, help="do " + name)(command)
app(["--help"])
"""
OURS = "import sys; sys.argv = ['steelyard', '--help']; from steelyard.cli import run; sys.exit(run())"
ROUNDS = 15


def started(code: str) -> float:
    """Wall time of one interpreter that runs `code`, its output kept off the screen. [s]"""
    return timeit.timeit(
        lambda: subprocess.run([sys.executable, "-c", code], check=True, capture_output=True), number=1
    )


def is_there(module: str) -> bool:
    """Whether a module with code of its own can be imported here."""
    spec = importlib.util.find_spec(module)
    return spec is not None and spec.origin is not None


def main() -> None:
    """Interleaved rounds, the best of each kept."""
    contenders = {"bare Python": BARE, "argparse, 12 commands": ARGPARSE}
    if is_there("typer"):
        contenders["Typer, 12 commands"] = TYPER
    else:
        print("Typer is not installed here, so it is left out; the record quotes what it measured.")
    if is_there("steelyard.cli"):
        contenders["steelyard --help"] = OURS
    best = dict.fromkeys(contenders, float("inf"))
    for _ in range(ROUNDS):
        for name, code in contenders.items():
            best[name] = min(best[name], started(code))
    for name, seconds in best.items():
        print(f"{name}: {seconds / best['bare Python']:.1f} × bare Python")


if __name__ == "__main__":
    main()
