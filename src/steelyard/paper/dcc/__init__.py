"""Digital Calibration Certificates: a sealed record as one, and the certificate of a transducer read.

In: the export of a record; the bytes of a certificate of version 3. Out: XML after schema 3.3.0 with units of
the D-SI 2.2.1, the same bytes for the same record; the table of a rig's paper. Judges nothing.
Refuses: what is no certificate, has a document type, is nested too deep, has no torques or a unit that is
not known. XML is loaded only when it is asked for.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from steelyard.desk.ports import Signer
    from steelyard.paper.dcc.reading import PaperRead
    from steelyard.telling.record_points import PhaseWords


def dcc_of(
    export: Mapping[str, Any],
    *,
    workshop: str,
    is_demo: bool = False,
    signer: "Signer | None" = None,
    told: "Sequence[PhaseWords] | None" = None,
) -> bytes:
    """A record as a Digital Calibration Certificate.

    export: as `desk.record_export` makes it, or read from its JSON. workshop: its name, which no record
    holds; empty where it has none. is_demo: it is marked as made up. signer: signs it, within it;
    not where its content does not have its digest any more.
    told: its phases in words with a decimal point, where they are at hand.
    """
    from steelyard.paper.dcc.document import document
    from steelyard.proof import signed_xml

    made = document(export, workshop=workshop, is_demo=is_demo, told=told)
    return made if signer is None or not export["is_intact"] else signed_xml(made, signer, name=workshop)


def paper_of_dcc(content: bytes, *, field: str, name: str, most: int | None = None) -> "PaperRead":
    """The paper of a rig from the certificate of a transducer; the worked row is left to the person.

    field: where the file was given; name: its own. most: rows that fit in there; None for any number.
    Raises InputRefused with the field.
    """
    from steelyard.paper.dcc.reading import paper_in

    return paper_in(content, field=field, name=name, most=most)


__all__ = ["dcc_of", "paper_of_dcc"]
