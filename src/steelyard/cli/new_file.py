"""What a command makes goes to a new file, or to standard output."""

import os
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import BinaryIO

from steelyard.errors import InputRefused

FILE_MODE, PRIVATE_MODE = 0o666, 0o600


def hand_over(content: bytes, out: Path | None, *, is_private: bool = False) -> bool:
    """Write to a file that is not there yet, or to standard output where none is named.

    is_private: nobody else on this computer may read it. Returns whether a file was written.
    Raises InputRefused (`--out`).
    """
    return hand_over_pieces([content], out, is_private=is_private)


def hand_over_pieces(pieces: Iterable[bytes], out: Path | None, *, is_private: bool = False) -> bool:
    """The same of what comes piece by piece; a file that could not be finished is taken away again."""
    if out is None:
        sys.stdout.flush()
        for piece in pieces:
            sys.stdout.buffer.write(piece)
        sys.stdout.buffer.flush()
        return False
    try:
        file = _opened(out, PRIVATE_MODE if is_private else FILE_MODE)
    except FileExistsError:
        raise InputRefused("--out", out, "want-new-file") from None
    except OSError:
        raise InputRefused("--out", out, "want-writable-file") from None
    try:
        with file:
            for piece in pieces:
                file.write(piece)
    except BaseException as broken:
        out.unlink(missing_ok=True)
        if isinstance(broken, OSError):
            raise InputRefused("--out", out, "want-writable-file") from None
        raise
    return True


def _opened(out: Path, mode: int) -> BinaryIO:
    """A file that is not there yet, with the mode it has from its first byte. Raises OSError."""
    return open(out, "xb", opener=lambda path, flags: os.open(path, flags, mode))
