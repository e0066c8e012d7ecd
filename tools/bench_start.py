"""How long the program needs to start, against a Python that does nothing."""

import os
import subprocess
import sys
from pathlib import Path

from bench_ratio import Bar

SOURCE = Path(__file__).resolve().parent.parent / "src"
SURROUND = os.environ | {"PYTHONPATH": str(SOURCE)}


def start() -> list[Bar]:
    """`steelyard --help`."""
    if not (SOURCE / "steelyard" / "__main__.py").exists():
        print("steelyard --help: left out, `python -m steelyard` does not exist")
        return []
    return [
        Bar(
            "steelyard --help : bare Python",
            lambda: python("-m", "steelyard", "--help"),
            lambda: python("-c", "pass"),
            bound=6.5,
            rounds=12,
        )
    ]


def python(*words: str) -> None:
    """Run this Python once, its output thrown away."""
    subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL, env=SURROUND)
