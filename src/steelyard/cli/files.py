"""Reading a file that a person named."""

from pathlib import Path

from steelyard.errors import InputRefused, NotFound

LARGEST_BYTES = 1_000_000


def read_file(name: str) -> bytes:
    """The bytes of a file, at most one more than is allowed.

    Raises NotFound where it is not there, InputRefused where it is no file that can be read.
    """
    try:
        with Path(name).open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise NotFound(name) from None
    except (OSError, ValueError):
        raise InputRefused("the file", name, "want-readable-file") from None
