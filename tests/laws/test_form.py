"""Laws of the check form: a spoiled file is refused and nothing else; the same file says the same."""

import json
import math
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from forms import ALL
from steelyard.cli import run
from steelyard.desk import check_content, judge_check
from steelyard.errors import InputRefused

quick = settings(derandomize=True, max_examples=100, deadline=None)
many = settings(quick, max_examples=400)
with_file = settings(quick, max_examples=50, suppress_health_check=[HealthCheck.function_scoped_fixture])

OTHER_VALUES = (
    *("true", "1", "-1", "0", "1.5", "nan", "inf", "-inf", "1e308", "9" * 40, "2026-11-20", "07:30:00"),
    *(
        "[]",
        "{}",
        "[1]",
        '["a", 1]',
        "{ a = 1 }",
        "[[[[[[[[]]]]]]]]",
        '""',
        '" "',
        '"x"',
        '"nan"',
        '"-inf kg"',
    ),
    *('"1e30 N·m"', '"1e-30 N·m"', '"1e30 kg"', '"1e-30 m"', '"1e30 %"', '"1e30 °"', '"-1e30 mm ± 1e30 mm"'),
    *('"0 kg"', '"0 mm"', '"0 N·m"', '"5 % ± 500 %"', '"1 kg ± 1e30 kg"', '"9.8 m/s² ± 1e30 m/s²"'),
    *('{ value = "1 kg", U = "1e30 kg", k = 1e-30 }', '{ value = "1 mm", U = "0 mm", k = 1e30 }'),
    *('"½ N·m"', '"１００ N·m"', '"100 N\u200b·m"', '"\u202e100 kg"', '"٣ kg"', '"100 N·m\u00a0"'),
)
STRANGE = "\x00\x1b\x7f\u00a0\u2028\ufeff\U0001f527é±·°\"'\\#=[]{}.,-+0e9\n"

names = st.sampled_from(sorted(ALL))
numbers = st.integers(0, 2**32)


def lines_mangled(lines: list[str], dice: random.Random) -> list[str]:
    """One line gone, twice there, or two lines swapped."""
    i, j = dice.randrange(len(lines)), dice.randrange(len(lines))
    kind = dice.randrange(3)
    if kind == 0:
        return lines[:i] + lines[i + 1 :]
    if kind == 1:
        return lines[:i] + [lines[i]] + lines[i:]
    lines[i], lines[j] = lines[j], lines[i]
    return lines


def characters_mangled(lines: list[str], dice: random.Random) -> list[str]:
    """A few characters replaced, dropped or put in."""
    text = "\n".join(lines)
    for _ in range(dice.randint(1, 4)):
        at = dice.randrange(len(text))
        text = (
            text[:at]
            + dice.choice(STRANGE if dice.random() < 0.3 else "0123456789.,-+±%eE kgmN·°")
            + text[at + dice.randint(0, 1) :]
        )
    return text.split("\n")


def value_mangled(lines: list[str], dice: random.Random) -> list[str]:
    """The value of one field replaced by another, often of another type."""
    filled = [i for i, line in enumerate(lines) if " = " in line and not line.startswith("draws")]
    i = dice.choice(filled)
    return [*lines[:i], f"{lines[i].partition(' = ')[0]} = {dice.choice(OTHER_VALUES)}", *lines[i + 1 :]]


def number_mangled(lines: list[str], dice: random.Random) -> list[str]:
    """A digit somewhere becomes a huge or a tiny number."""
    digits = [(i, j) for i, line in enumerate(lines) for j, c in enumerate(line) if c.isdigit()]
    i, j = dice.choice(digits)
    new = dice.choice(("1e29", "1e-29", "99999999999999999999", "0", "-", "1e400", "0,0001", "1e12"))
    lines[i] = lines[i][:j] + new + lines[i][j + 1 :]
    return lines


MANGLES: tuple[Callable[[list[str], random.Random], list[str]], ...] = (
    lines_mangled,
    characters_mangled,
    value_mangled,
    number_mangled,
)


def mangled(name: str, seed: int, mangle: Callable[[list[str], random.Random], list[str]]) -> bytes:
    """A form spoiled once, or now and then twice, by one way of spoiling."""
    dice = random.Random(seed)
    lines = mangle(ALL[name].split("\n"), dice)
    lines = mangle(lines, dice) if dice.random() < 0.3 else lines
    return "\n".join(lines).encode("utf-8", "surrogatepass")


def is_refused(content: bytes) -> bool:
    """Judge and write down; any other exception than a refusal goes on to the test."""
    try:
        judged = judge_check(content)
    except InputRefused as trouble:
        if not all(c.isprintable() or c.isspace() for c in trouble.sentence):
            raise AssertionError(f"a refusal that a terminal may obey: {trouble.sentence!r}") from trouble
        return True
    json.dumps(check_content(judged), allow_nan=False)
    return False


@pytest.mark.parametrize("mangle", MANGLES, ids=lambda m: m.__name__)
@many
@given(names, numbers)
def test_a_spoiled_form_is_judged_or_refused_and_nothing_else(
    mangle: Callable[[list[str], random.Random], list[str]], name: str, seed: int
) -> None:
    is_refused(mangled(name, seed, mangle))


@quick
@given(st.binary(max_size=200))
def test_any_bytes_are_refused(content: bytes) -> None:
    assert is_refused(content)


@quick
@given(names, st.integers(0, 2000), st.binary(min_size=1, max_size=4))
def test_bytes_put_anywhere_are_judged_or_refused(name: str, at: int, piece: bytes) -> None:
    content = ALL[name].encode()
    is_refused(content[:at] + piece + content[at:])


@pytest.mark.parametrize("deep", [10, 100, 300, 1000])
@pytest.mark.parametrize("field", ["tool", "point", "title", "steelyard_check", "exercise_pulls"])
def test_nesting_is_refused_at_any_depth(field: str, deep: int) -> None:
    assert is_refused(f"steelyard_check = 1\ndate = 2026-11-20\n{field} = {'[' * deep}{']' * deep}".encode())


@pytest.mark.parametrize("mangle", MANGLES, ids=lambda m: m.__name__)
@with_file
@given(names, numbers)
def test_the_command_never_calls_it_our_fault(
    tmp_path: Path, mangle: Callable[[list[str], random.Random], list[str]], name: str, seed: int
) -> None:
    file = tmp_path / "check.toml"
    file.write_bytes(mangled(name, seed, mangle))
    assert run(["check", str(file)]) in (0, 3, 10, 11)


def leaves(content: Any) -> Iterator[Any]:
    """Every value inside, however deep."""
    if isinstance(content, dict):
        for key, value in content.items():
            yield key
            yield from leaves(value)
    elif isinstance(content, list):
        for value in content:
            yield from leaves(value)
    else:
        yield content


@pytest.mark.parametrize("name", ALL)
def test_the_content_comes_back_from_json_as_it_was(name: str) -> None:
    content = check_content(judge_check(ALL[name].encode()))
    assert json.loads(json.dumps(content)) == content
    for leaf in leaves(content):
        assert leaf is None or type(leaf) in (str, int, float, bool)
        assert not isinstance(leaf, float) or math.isfinite(leaf)


@pytest.mark.parametrize("name", ALL)
def test_the_same_file_says_the_same(name: str) -> None:
    first, second = (check_content(judge_check(ALL[name].encode())) for _ in range(2))
    assert first == second


@pytest.mark.parametrize("name", ALL)
def test_another_seed_moves_the_interval_and_nothing_else(name: str) -> None:
    first, second = (
        check_content(judge_check(ALL[name].replace("draws", f"seed = {seed}\ndraws").encode()))
        for seed in (0, 1)
    )
    for one, other in zip(first["points"], second["points"], strict=True):
        assert one["iso"]["deviation_percent"] == other["iso"]["deviation_percent"]
        assert one["budget"] == other["budget"]
        assert one["iso"]["low_percent"] != other["iso"]["low_percent"]
