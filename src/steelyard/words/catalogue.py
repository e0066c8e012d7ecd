"""From a code to its sentence."""

import os
from functools import cache
from pathlib import Path

from steelyard.words.english import CATALOGUE

LOCALE_FOLDER = Path(__file__).parent / "locale"


@cache
def translated(code: str) -> str:
    """The template of a code, translated where the reader's language has a file."""
    english = CATALOGUE[code]
    if not LOCALE_FOLDER.is_dir() or os.environ.get("LANGUAGE", os.environ.get("LANG", "")) == "":
        return english
    import gettext

    return gettext.translation("steelyard", LOCALE_FOLDER, fallback=True).pgettext(code, english)


def say(code: str, /, **facts: object) -> str:
    """The sentence of a code with its facts filled in.

    Raises KeyError for an unknown code or a missing fact: the caller's bug.
    """
    return translated(code).format(**facts) if facts else _alone(code)


@cache
def _alone(code: str) -> str:
    """A sentence that needs no facts."""
    return translated(code).format()
