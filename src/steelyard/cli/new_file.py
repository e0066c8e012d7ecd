"""What a command makes goes to a new file, or to standard output."""

import sys
from pathlib import Path

from steelyard.errors import InputRefused


def hand_over(content: bytes, out: Path | None) -> bool:
    """Write to a file that is not there yet, or to standard output where none is named.

    Returns whether a file was written. Raises InputRefused (`--out`).
    """
    if out is None:
        sys.stdout.flush()
        sys.stdout.buffer.write(content)
        sys.stdout.buffer.flush()
        return False
    try:
        with out.open("xb") as file:
            file.write(content)
    except FileExistsError:
        raise InputRefused("--out", out, "want-new-file") from None
    except OSError:
        raise InputRefused("--out", out, "want-writable-file") from None
    return True
