"""The example in Python of docs/how-to/record-on-paper.md, run as it stands there."""

import re
from pathlib import Path
from textwrap import dedent

import pytest

from paper.sealed_forms import form
from steelyard.bootstrap import workshop
from steelyard.desk import record_file

GUIDE = Path(__file__).resolve().parents[2] / "docs" / "how-to" / "record-on-paper.md"
EXAMPLE = re.compile(r"From Python:\n\n((?: {4}.*\n|\n)+)")
RECORD = 12
"""Of the example."""


def test_the_example_in_python_prints_its_record(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with workshop(tmp_path / "shop") as shop:
        for i in range(1, RECORD + 1):
            record_file(shop.acting(), form(1, 2, number=f"T-{i:02d}").encode())
    found = EXAMPLE.search(GUIDE.read_text())
    assert found is not None
    monkeypatch.chdir(tmp_path)
    exec(compile(dedent(found[1]), str(GUIDE), "exec"), {"__name__": "example"})
    assert Path(f"record-{RECORD}.pdf").read_bytes().startswith(b"%PDF-1.7")
