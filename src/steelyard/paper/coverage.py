"""Which characters the fonts of the package can show, and what stands for one that none of them has."""

import re
import struct
import unicodedata
from collections.abc import Iterator
from functools import cache

from steelyard.paper.typesetting import FONTS

BLANKS = "\t\n\r"
UNSEEN = {0xAD, 0x34F, 0x61C, *range(0x200B, 0x2010), *range(0x2060, 0x2065), 0xFEFF, *range(0xFE00, 0xFE10)}
"""Joiners, marks of direction and of variants: they need no picture."""
TURNS_ROUND = {chr(n) for n in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))}
"""What would change the order of the words that follow it. Source: UAX #9, explicit formatting (memory)."""
RIGHT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc"
FIRST_STRONG, POP = "\u2068", "\u2069"
FROM_THE_RIGHT = re.compile(rf"([{RIGHT}](?:[^A-Za-z\u00c0-\u058f\n]*[{RIGHT}])?)(\)?)")
"""From the first such letter to the last, without a letter that is written from the left between them."""
SEGMENTS, GROUPS = 4, 12


def shown(text: str) -> tuple[str, tuple[str, ...]]:
    """A text as the fonts can show it, and what stands in it for characters that none has, as `U+1F527`."""
    if plain().issuperset(text):
        return text, ()
    put = {c: f"U+{ord(c):04X}" for c in dict.fromkeys(text) if not is_shown(c)}
    return text.translate({ord(c): number for c, number in put.items()}), tuple(put.values())


def held_together(text: str) -> str:
    """A text in which what is written from right to left keeps its own order, and the words around it theirs.

    Source: UAX #9, implicit levels and isolates (memory).
    """
    return text if plain().issuperset(text) else FROM_THE_RIGHT.sub(_isolated, text)


def _isolated(found: "re.Match[str]") -> str:
    """The run with the bracket that closes one in it; another bracket stays outside."""
    run, bracket = found.groups()
    is_its_own = run.count("(") > run.count(")")
    return f"{FIRST_STRONG}{run}{bracket}{POP}" if is_its_own else f"{FIRST_STRONG}{run}{POP}{bracket}"


def is_shown(character: str) -> bool:
    """Some font has it, or it is one that is not seen."""
    if character in BLANKS or ord(character) in UNSEEN:
        return True
    is_obeyed = character in TURNS_ROUND or unicodedata.category(character) == "Cc"
    return ord(character) in covered() and not is_obeyed


@cache
def plain() -> frozenset[str]:
    """Every character that stands as it is: some font has it, and it is not written from the right."""
    seen = {chr(code) for code in covered() if is_shown(chr(code))}
    return frozenset(c for c in seen.union(BLANKS) if not FROM_THE_RIGHT.match(c))


@cache
def covered() -> frozenset[int]:
    """Every code point that some font of the package has a picture of."""
    return frozenset(one for path in sorted(FONTS.glob("*.ttf")) for one in _in_font(path.read_bytes()))


def _in_font(font: bytes) -> Iterator[int]:
    """Code points in the table `cmap` of a font. Source: OpenType 1.9, cmap, formats 4 and 12 (memory)."""
    tables = struct.unpack_from(">H", font, 4)[0]
    for i in range(tables):
        name, _, start, _ = struct.unpack_from(">4sIII", font, 12 + 16 * i)
        if name == b"cmap":
            (count,) = struct.unpack_from(">H", font, start + 2)
            for row in range(count):
                place = start + struct.unpack_from(">HHI", font, start + 4 + 8 * row)[2]
                yield from _in_subtable(font, place)


def _in_subtable(font: bytes, place: int) -> Iterator[int]:
    (form,) = struct.unpack_from(">H", font, place)
    if form == GROUPS:
        (count,) = struct.unpack_from(">I", font, place + 12)
        for i in range(count):
            first, last, glyph = struct.unpack_from(">III", font, place + 16 + 12 * i)
            yield from range(first + (glyph == 0), last + 1)
    elif form == SEGMENTS:
        yield from _in_segments(font, place)


def _in_segments(font: bytes, place: int) -> Iterator[int]:
    twice = struct.unpack_from(">H", font, place + 6)[0]
    columns = [place + 14, *(place + 16 + twice * i for i in (1, 2, 3))]
    lasts, firsts, shifts, offsets = (struct.unpack_from(f">{twice // 2}H", font, at) for at in columns)
    for i, (first, last, shift, offset) in enumerate(zip(firsts, lasts, shifts, offsets, strict=True)):
        for one in range(first, last + 1):
            glyph = one + shift
            if offset:
                at = columns[3] + 2 * i + offset + 2 * (one - first)
                glyph = struct.unpack_from(">H", font, at)[0]
            if glyph % 0x10000:
                yield one
