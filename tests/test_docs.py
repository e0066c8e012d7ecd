"""What the documents promise runs: the Python examples, the commands, the links."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PYTHON = (ROOT / "docs/reference/python.md").read_text("utf-8")
EXAMPLES = re.findall(r"^## (.+?)$.*?```python\n(.*?)```", PYTHON, re.MULTILINE | re.DOTALL)
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])
LINK = re.compile(r"\]\((?!https?:|#)([^)#]+)")


def test_there_are_five_examples() -> None:
    assert len(EXAMPLES) == 5


@pytest.mark.parametrize("code", [code for _, code in EXAMPLES], ids=[name for name, _ in EXAMPLES])
def test_each_python_example_runs(code: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    exec(compile(code, "docs/reference/python.md", "exec"), {"__name__": "example"})


@pytest.mark.parametrize("page", PAGES, ids=lambda p: str(p.relative_to(ROOT)))
def test_every_link_leads_somewhere(page: Path) -> None:
    for link in LINK.findall(page.read_text("utf-8")):
        assert (page.parent / link).exists(), f"{page.name}: {link}"
