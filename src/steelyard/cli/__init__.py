"""The command line: parse, call the desk, say it in words.

In: arguments and files. Out: sentences or JSON, troubles on standard error, an exit status.
Refuses: what the desk refuses, with its sentence.
"""

from steelyard.cli.main import run

__all__ = ["run"]
