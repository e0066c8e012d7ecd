"""`python -m steelyard` is the command `steelyard`."""

import sys

from steelyard.cli import run

sys.exit(run())
