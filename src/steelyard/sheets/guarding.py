"""A text a spreadsheet would take for a formula comes out of a CSV file as the text it is."""

import re

_INVISIBLE = r"[\s\x00\u200b\ufeff]*"
"""What a spreadsheet may trim before it looks at the first character."""

_LOOKS_LIKE_FORMULA = re.compile(rf"(?:[\t\r\n]|{_INVISIBLE}[=+\-@\uff1d\uff0b\uff0d\uff20])")
"""Tab, CR and LF at the start; =, +, - and @ first of what can be seen, in half and full width.

Source: own choice after the common advice on "CSV injection"; docs/decisions/0020-sheets.md.
"""

_PLAIN_NUMBER = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]+)?(?:[eE][+-]?[0-9]+)?")


def guarded(text: str) -> str:
    """The text with one apostrophe in front, if a spreadsheet could take it for a formula; else as it is.

    A plain number ("-12.5", "+3") needs no guard. A text that itself begins with apostrophes and then looks
    like a formula gets one more, so that `unguarded` takes exactly one away and gives the text back.
    """
    if _PLAIN_NUMBER.fullmatch(text) or not _LOOKS_LIKE_FORMULA.match(text.lstrip("'")):
        return text
    return f"'{text}"


def unguarded(text: str) -> str:
    """The text of a CSV cell without its guard: `unguarded(guarded(text)) == text` for every text.

    A text somebody else wrote with such an apostrophe loses it too; any other apostrophe stays.
    """
    if text.startswith("'") and _LOOKS_LIKE_FORMULA.match(text.lstrip("'")):
        return text[1:]
    return text
