"""The computer's clock, its dice and its darkroom, as the desk wants them."""

import secrets
from datetime import datetime

from steelyard.store import keep_photograph


class WallClock:
    """The computer's clock in its own zone."""

    def now(self) -> datetime:
        """Now, aware."""
        return datetime.now().astimezone()


class SystemDice:
    """Names and salts from the system's source of chance."""

    def name(self) -> str:
        """Eight hexadecimal digits."""
        return secrets.token_hex(4)

    def salt(self) -> str:
        """128 bits."""
        return secrets.token_hex(16)


class Photographs:
    """Photographs scaled down, without their position data."""

    def develop(self, content: bytes, *, most_bytes: int = 2_000_000) -> tuple[bytes, str]:
        """Content and media type. Raises InputRefused."""
        photograph = keep_photograph(content, most_bytes=most_bytes)
        return photograph.content, photograph.media_type
