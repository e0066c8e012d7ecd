"""Every sentence that is said is in the catalogue, and every sentence of the catalogue is said somewhere."""

import ast
import string
from collections.abc import Iterator
from pathlib import Path

import pytest
from jinja2 import Environment, nodes

from steelyard.evaluation import Cause, Rule, Verdict
from steelyard.findings import Severity
from steelyard.records.check_form import VARIATIONS
from steelyard.records.form_transducer import OTHERS
from steelyard.tools import Measure
from steelyard.words import CATALOGUE

SRC = Path(__file__).parent.parent / "src" / "steelyard"
TREES = {
    str(path.relative_to(SRC)): ast.parse(path.read_text("utf-8"))
    for path in sorted(SRC.rglob("*.py"))
    if "english" not in path.parts
}
TEMPLATES = {
    str(path.relative_to(SRC)): Environment().parse(path.read_text("utf-8"))
    for path in sorted((SRC / "web" / "templates").rglob("*.html"))
}
CODE_AT = {"Finding": 0, "InputRefused": 2, "say": 0, "needed": 2}
"""Which argument of a call is a code."""
OWN_WORDS = ("want-", "reckon-")
"""What begins so is a code wherever it stands."""
INPUTS_ONLY = {"canister-volume", "latitude", "height", "load"}
"""Lines that other lines are made from: they never stand in a budget."""
SPELLED = {
    "verdict-": Verdict,
    "mark-": Verdict,
    "rule-": Rule,
    "measure-": Measure,
    "cause-": Cause,
    "severity-": Severity,
    "rough-": ("curvature", "bounds", "few-pulls", "few-answers"),
}
"""Codes put together from a prefix and one of these."""


def calls(tree: ast.AST) -> Iterator[tuple[str, ast.Call]]:
    """Every call with the last word of what is called."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if isinstance(node.func, ast.Name):
                yield node.func.id, node
            elif isinstance(node.func, ast.Attribute):
                yield node.func.attr, node


def texts(node: ast.AST) -> Iterator[str]:
    """The texts an expression may be: of a constant, or of either branch; none of a name or an f-string."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from texts(node.body)
        yield from texts(node.orelse)


def texts_in_template(node: nodes.Node) -> Iterator[str]:
    """The same of an expression in a template."""
    if isinstance(node, nodes.Const) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, nodes.CondExpr):
        yield from texts_in_template(node.expr1)
        if node.expr2 is not None:
            yield from texts_in_template(node.expr2)


def codes_in_templates() -> set[tuple[str, str]]:
    """Template and code of everything that a template says."""
    return {
        (name, text)
        for name, tree in TEMPLATES.items()
        for call in tree.find_all(nodes.Call)
        if isinstance(call.node, nodes.Name) and call.node.name == "say" and call.args
        for text in texts_in_template(call.args[0])
    }


def codes_said() -> set[tuple[str, str]]:
    """Module and code of everything said, refused or found."""
    called = {
        (module, text)
        for module, tree in TREES.items()
        for name, call in calls(tree)
        if name in CODE_AT and len(call.args) > CODE_AT[name]
        for text in texts(call.args[CODE_AT[name]])
    }
    anywhere = {(module, text) for module, tree in TREES.items() for n in ast.walk(tree) for text in texts(n)}
    return called | {
        (module, text) for module, text in anywhere if text.startswith(OWN_WORDS) and not text.endswith("-")
    }


def line_names() -> set[tuple[str, str]]:
    """Module and name of every line that is made."""
    return {
        (module, text)
        for module, tree in TREES.items()
        for name, call in calls(tree)
        for i in (0 if name == "Line" else 1,)
        if name in ("Line", "line") and len(call.args) > i
        for text in texts(call.args[i])
        if text not in INPUTS_ONLY
    }


@pytest.mark.parametrize(("module", "code"), sorted(codes_said() | codes_in_templates()))
def test_a_code_has_its_sentence(module: str, code: str) -> None:
    assert code in CATALOGUE, f"{module} says {code}"


@pytest.mark.parametrize(("module", "name"), sorted(line_names()))
def test_a_line_has_its_name_in_words(module: str, name: str) -> None:
    assert f"line-{name}" in CATALOGUE, f"{module} makes it"


@pytest.mark.parametrize("name", [*VARIATIONS, *OTHERS])
def test_a_line_that_the_form_names_has_its_name_in_words(name: str) -> None:
    assert f"line-{name}" in CATALOGUE


@pytest.mark.parametrize("prefix", SPELLED)
def test_every_word_behind_a_prefix_has_its_sentence(prefix: str) -> None:
    assert {code for code in CATALOGUE if code.startswith(prefix)} == {
        f"{prefix}{word}" for word in SPELLED[prefix]
    }


def written() -> tuple[set[str], set[str]]:
    """Every text in the source, and the beginning of every f-string that begins with one."""
    whole, beginnings = set(), set()
    for tree in TREES.values():
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                whole.add(node.value)
            if isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
                beginnings.add(str(node.values[0].value))
    for template in TEMPLATES.values():
        whole |= {n.value for n in template.find_all(nodes.Const) if isinstance(n.value, str)}
        for concat in template.find_all(nodes.Concat):
            beginnings |= set(texts_in_template(concat.nodes[0]))
        for add in template.find_all(nodes.Add):
            beginnings |= set(texts_in_template(add.left))
    return whole, {b for b in beginnings if b.endswith("-")}


WHOLE, BEGINNINGS = written()
MADE = {f"line-{name}" for _, name in line_names()} | {f"line-{name}" for name in (*VARIATIONS, *OTHERS)}


@pytest.mark.parametrize("code", CATALOGUE)
def test_a_sentence_is_said_somewhere(code: str) -> None:
    if code.startswith("line-"):
        assert code in MADE
    else:
        assert code in WHOLE or any(code.startswith(beginning) for beginning in BEGINNINGS)


@pytest.mark.parametrize("code", CATALOGUE)
def test_a_sentence_is_plain_text_with_named_facts(code: str) -> None:
    for _, name, _, _ in string.Formatter().parse(CATALOGUE[code]):
        assert name is None or name.isidentifier()
    assert CATALOGUE[code].isprintable()


def test_no_code_stands_in_two_files() -> None:
    written: list[str] = []
    for path in sorted((SRC / "words" / "english").glob("[!_]*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Dict):
                written += [str(key.value) for key in node.keys if isinstance(key, ast.Constant)]
    assert sorted(written) == sorted(CATALOGUE)
