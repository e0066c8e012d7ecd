"""What the tests of several commands begin with."""

from pathlib import Path

import pytest

from forms import ADAPTER
from steelyard.cli import run


@pytest.fixture
def shop(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """The folder of a workshop with one record."""
    folder = tmp_path / "shop"
    (tmp_path / "check.toml").write_text(ADAPTER, "utf-8")
    run(["check", str(tmp_path / "check.toml"), "--keep", "--data", str(folder)])
    capsys.readouterr()
    return folder
