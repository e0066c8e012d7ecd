"""The reference pages name every field that is read and every key that is written; their examples hold."""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from forms import ALL
from steelyard.desk import check_content, judge_check
from steelyard.tools import Kind

ROOT = Path(__file__).parents[2]
FORM = (ROOT / "docs/reference/file-form.md").read_text("utf-8")
JSON = (ROOT / "docs/reference/json.md").read_text("utf-8")
EXAMPLES = re.findall(r"```toml\n(.*?)```", FORM, re.DOTALL)
READERS = {
    "text",
    "needed",
    "flag",
    "whole",
    "day",
    "choice",
    "number",
    "quoted",
    "quantity",
    "line",
    "inner",
    "tables",
}


def fields_read() -> Iterator[str]:
    """The name of every field that some table is asked for."""
    for path in sorted((ROOT / "src/steelyard/records").glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.args):
                continue
            first = node.args[0]
            if node.func.attr in READERS and isinstance(first, ast.Constant) and isinstance(first.value, str):
                yield first.value


def keys(content: Any) -> Iterator[str]:
    """Every key of a content, however deep."""
    if isinstance(content, list):
        for item in content:
            yield from keys(item)
    if isinstance(content, dict):
        for key, value in content.items():
            yield key
            if key == "level_and_slope":
                yield from keys(list(value.values()))
            elif key != "facts":
                yield from keys(value)


def is_named(name: str, page: str) -> bool:
    """The name stands in code marks, or in the head of a table of the form."""
    return bool(
        re.search(rf"`[^`\n]*\b{re.escape(name)}\b[^`\n]*`|^## .*\[{re.escape(name)}\]", page, re.MULTILINE)
    )


@pytest.mark.parametrize("field", sorted(set(fields_read())))
def test_every_field_that_is_read_is_in_the_reference(field: str) -> None:
    assert is_named(field, FORM)


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_of_tool_is_in_the_reference(kind: Kind) -> None:
    assert is_named(kind, FORM)


def test_every_key_of_the_json_is_in_the_reference() -> None:
    written = {key for text in ALL.values() for key in keys(check_content(judge_check(text.encode())))}
    assert {key for key in written if not is_named(key, JSON)} == set()


def test_the_first_example_can_be_judged() -> None:
    judge_check(EXAMPLES[0].encode())


@pytest.mark.parametrize("example", EXAMPLES[1:])
def test_each_further_example_fits_into_the_first(example: str) -> None:
    tomllib.loads(example)
    head, point = EXAMPLES[0].split("[[point]]")
    if "[[point]]" in example:
        judge_check(f"{head}{example}".encode())
    else:
        judge_check(f"{head}{example}\n[[point]]{point}".encode())


@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.toml")), ids=lambda p: p.name)
def test_each_example_file_can_be_judged(path: Path) -> None:
    judge_check(path.read_bytes())
