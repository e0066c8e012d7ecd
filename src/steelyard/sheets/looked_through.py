"""A spreadsheet packed anew out of parts that were looked through: what loads it sees nothing else.

Readers of zips differ in which of two parts of one name counts, in whether a name's case does and in where a
part ends; what goes on has one part of each name, as long as it was found to be.
"""

import io
import zipfile
from typing import BinaryIO
from xml.parsers import expat

from steelyard.sheets.spread import MOST_LETTERS, Spread, Totals

LARGEST_UNPACKED = MOST_LETTERS
"""Of all parts of a spreadsheet that are looked through together, as its list of parts says. [bytes]"""
MOST_PARTS = 2_000
PIECE = 1 << 18
"""Of a part, looked through at once. [bytes]"""
LONGEST_MARK = 4 * PIECE
"""Of one element with what is given in it. [bytes]"""
HOW = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
"""How spreadsheet programs pack their parts."""
NUL = b"\x00"
"""Stands in every part in UTF-16, in which two readers see two texts, and in none in UTF-8."""
FASTEST = 1
"""How hard the parts are packed again."""
NEEDED = {"xl/workbook.xml", "content.xml"}
"""The first part of an XLSX and of an ODS file; one of them is there."""
MIME_TYPE = "mimetype"
"""A part of ODS that is no XML and says what the file is."""
LONGEST_MIME_TYPE = 100
STRINGS = "xl/sharedstrings.xml"
"""The texts of an XLSX file to which its cells point."""
ENDS = (".xml", ".rels")
"""Of parts that may say something of cells; others, such as pictures, do not go on."""
ASIDE = (
    "customxml/",
    "docprops/",
    "object ",
    "objectreplacements/",
    "xl/calcchain",
    "xl/chart",
    "xl/comments",
    "xl/drawings/",
    "xl/externallinks/",
    "xl/persons/",
    "xl/pivot",
    "xl/theme/",
    "xl/threadedcomments/",
)
"""Beginnings of parts in which no cell of a sheet stands; they do not go on."""


def looked_through(file: BinaryIO, name: str) -> BinaryIO:
    """The spreadsheet again, with nothing in it that was not looked through.

    Raises InputRefused (`file`) where it would not fit once it is loaded; what zipfile and expat raise.
    """
    totals, kept = Totals(name), io.BytesIO()
    with (
        zipfile.ZipFile(file) as packed,
        zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED, compresslevel=FASTEST) as again,
    ):
        for part in _wanted(packed, totals):
            _pass_on(packed, part, again, totals)
    kept.seek(0)
    return kept


def _wanted(packed: zipfile.ZipFile, totals: Totals) -> list[zipfile.ZipInfo]:
    """The parts that go on, the shared texts first."""
    parts: dict[str, zipfile.ZipInfo] = {}
    if len(packed.infolist()) > MOST_PARTS:
        raise totals.refusal()
    for part in packed.infolist():
        folded = part.filename.casefold()
        is_wanted = folded.endswith(ENDS) and not folded.startswith(ASIDE)
        if is_wanted or folded == MIME_TYPE:
            if folded in parts or part.compress_type not in HOW:
                raise totals.refusal()
            parts[folded] = part
    if not NEEDED & parts.keys():
        raise totals.refusal()
    if sum(part.file_size for part in parts.values()) > LARGEST_UNPACKED:
        raise totals.refusal("want-sheet-within", most=LARGEST_UNPACKED // 1_000_000)
    return [parts[folded] for folded in sorted(parts, key=lambda folded: (folded != STRINGS, folded))]


def _pass_on(packed: zipfile.ZipFile, part: zipfile.ZipInfo, again: zipfile.ZipFile, totals: Totals) -> None:
    folded = part.filename.casefold()
    with packed.open(part) as source, again.open(part.filename, "w") as goal:
        if folded == MIME_TYPE:
            goal.write(source.read(LONGEST_MIME_TYPE))
            return
        parser = _parser(Spread(totals, holds_strings=folded == STRINGS))
        read = 0
        while piece := source.read(PIECE):
            if NUL in piece:
                raise totals.refusal()
            read += len(piece)
            parser.Parse(piece)
            if read - parser.CurrentByteIndex > LONGEST_MARK or read > LARGEST_UNPACKED:
                raise totals.refusal()
            goal.write(piece)
        parser.Parse(b"", True)


def _parser(spread: Spread) -> expat.XMLParserType:
    """Reads UTF-8 whatever a part says of itself, as what loads it does."""
    parser = expat.ParserCreate("utf-8")
    parser.buffer_text = True
    parser.StartElementHandler = spread.began
    parser.EndElementHandler = spread.ended
    parser.CharacterDataHandler = spread.text
    parser.StartDoctypeDeclHandler = spread.declared
    parser.ProcessingInstructionHandler = spread.declared
    return parser
