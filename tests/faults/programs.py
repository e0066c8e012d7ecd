"""Starting other programs beside the tests."""

import os
import subprocess
import sys
from pathlib import Path

ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}


def start_writer(path: Path, name: str, count: int) -> subprocess.Popen[str]:
    """A writer of `writer.py`."""
    program = [sys.executable, "-W", "error", str(Path(__file__).parent / "writer.py")]
    return subprocess.Popen(
        [*program, str(path), name, str(count)], stdout=subprocess.PIPE, text=True, env=ENVIRONMENT
    )


def run_script(script: str, *arguments: str) -> str:
    """What a short program prints. Raises subprocess.CalledProcessError."""
    command = [sys.executable, "-W", "error", "-c", script, *arguments]
    return subprocess.run(command, env=ENVIRONMENT, check=True, capture_output=True, text=True).stdout
