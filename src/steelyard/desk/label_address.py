"""The address that the codes on labels begin with: where the pages of this workshop are opened."""

import re
from urllib.parse import urlsplit

from steelyard.errors import InputRefused

LONGEST_ADDRESS = 60
"""A longer one makes a code too fine for a small label."""
HOST = re.compile(r"(?:[a-z0-9](?:[a-z0-9-]*[a-z0-9])?\.)*[a-z0-9](?:[a-z0-9-]*[a-z0-9])?|\[[0-9a-f:.]+\]")
PATH = re.compile(r"(?:/[A-Za-z0-9._~-]+)*")


def read_label_address(text: str) -> str:
    """The address as it is kept, without a slash at its end; empty where none was typed.

    text: absolute, http or https: host, port and path alone. Raises InputRefused (`label_address`).
    """
    plain = text.strip().rstrip("/")
    if not plain:
        return ""
    if len(plain) > LONGEST_ADDRESS:
        raise InputRefused("label_address", text, "want-shorter", longest=LONGEST_ADDRESS)
    if not _is_address(plain):
        raise InputRefused("label_address", text, "want-label-address")
    return plain


def _is_address(text: str) -> bool:
    try:
        parts = urlsplit(text)
        port = parts.port
    except ValueError:
        return False
    host = parts.netloc.lower().removesuffix(f":{port}" if port is not None else "")
    rebuilt = f"{parts.scheme}://{parts.netloc}{parts.path}"
    is_plain = text.isascii() and rebuilt.lower() == text.lower() and port != 0
    is_web = parts.scheme in ("http", "https")
    return is_plain and is_web and bool(HOST.fullmatch(host)) and bool(PATH.fullmatch(parts.path))
