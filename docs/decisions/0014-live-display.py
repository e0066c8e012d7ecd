"""Evidence for 0014-live-display.md: a point judged with few draws and with all, digits and time."""

import timeit
from pathlib import Path

import steelyard
from steelyard.desk.running import QUICK_DRAWS

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
SEEDS = range(1, 6)


def judged(form: bytes, draws: int | None, seed: int) -> list[float]:
    """Half-widths of the intervals of all points. draws: None for as many as a verdict takes. [%]"""
    named = f"seed = {seed}\n" + (f"draws = {draws}\n" if draws else "")
    text = form.replace(b"steelyard_check = 1\n", b"steelyard_check = 1\n" + named.encode(), 1)
    return [point.result.iso.expanded_percent for point in steelyard.judge_check(text).points]


def main() -> None:
    """Every example that can be judged: the farthest of five seeds from the full count, and the time."""
    for path in sorted(EXAMPLES.glob("*.toml")):
        form = path.read_bytes()
        full = judged(form, None, 1)
        quick = [judged(form, QUICK_DRAWS, seed) for seed in SEEDS]
        off = max(abs(a / b - 1) for row in quick for a, b in zip(row, full, strict=True))
        slow = min(timeit.repeat(lambda form=form: judged(form, None, 1), number=1, repeat=2))
        fast = min(timeit.repeat(lambda form=form: judged(form, QUICK_DRAWS, 1), number=1, repeat=3))
        print(f"{path.name}: ± off by at most {off:.1%} of itself, {slow / fast:.0f} times as fast")


if __name__ == "__main__":
    main()
