"""What the package says it needs is what is locked and installed."""

import tomllib
from pathlib import Path

ROOT = Path(__file__).parent.parent


def test_the_package_and_the_lock_ask_for_the_same() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    lines = (ROOT / "requirements" / "run.in").read_text("utf-8").splitlines()
    asked = {line.strip() for line in lines if line.strip() and not line.startswith("#")}
    builds = set(project["build-system"]["requires"])
    assert asked - builds == set(project["project"]["dependencies"])
    assert builds <= asked
