"""Files that were changed: by chance a thousand times in each form, and on purpose where it would pay."""

import io
import json
import random
from collections import Counter

import pikepdf
import pytest

from proof.signed_shop import KEY, NAME, leaving
from steelyard.errors import InputRefused
from steelyard.proof import Standing, seen_in, signed_json

TIMES = 1000
FONT_FILES = ("/FontFile2", "/FontFile3")


def standing(content: bytes) -> str:
    """What a file is worth by itself; `refused` where nothing can be said of it."""
    try:
        return seen_in(content).standing.value
    except InputRefused:
        return "refused"


def changed(content: bytes, chance: random.Random) -> bytes:
    """A byte put in the place of another, taken out, or added; now and then two pieces exchanged."""
    at, how = chance.randrange(len(content)), chance.randrange(10)
    if how == 0:
        return content[:at] + content[at + 1 :]
    if how == 1:
        return content[:at] + bytes([chance.randrange(256)]) + content[at:]
    if how == 2:
        other = (at + chance.randrange(1, 400)) % len(content)
        first, second = sorted((at, other))
        piece = content[first + 1 : second]
        return (
            content[:first]
            + content[second : second + 1]
            + piece
            + content[first : first + 1]
            + content[second + 1 :]
        )
    return (
        content[:at] + bytes([chance.choice([b for b in range(256) if b != content[at]])]) + content[at + 1 :]
    )


@pytest.mark.parametrize("form", ["json", "dcc", "pdf"])
def test_of_a_thousand_random_changes_none_is_called_intact(form: str) -> None:
    content, chance, seen = leaving(form), random.Random(form), Counter[str]()
    assert standing(content) == "intact"
    for _ in range(TIMES):
        other = changed(content, chance)
        if other != content:
            seen[standing(other)] += 1
    assert seen["intact"] == 0
    assert seen["changed"] > 0.9 * TIMES


def test_of_changes_in_the_place_of_the_signature_none_is_called_intact() -> None:
    """What a signature in a PDF cannot cover is its own place; there every byte is checked by itself."""
    content, chance = leaving("pdf"), random.Random(7)
    begin = content.rindex(b"/Contents <") + len(b"/Contents ")
    end = content.index(b">", begin) + 1
    for _ in range(300):
        at = chance.randrange(begin, end)
        other = chance.choice([b for b in b"0123456789abcdefABCDEF<> " if b != content[at]])
        assert standing(content[:at] + bytes([other]) + content[at + 1 :]) != "intact", at


class TestPages:
    """Each is saved as a program for PDF saves it: the old signature does not hold any more."""

    def opened(self) -> pikepdf.Pdf:
        return pikepdf.open(io.BytesIO(leaving("pdf")))

    def saved(self, pdf: pikepdf.Pdf) -> bytes:
        out = io.BytesIO()
        pdf.save(out)
        return out.getvalue()

    def test_a_digit_on_the_page(self) -> None:
        pdf = self.opened()
        drawn = pdf.pages[0].Contents.read_bytes()
        at = drawn.index(b")Tj") - 1  # the last byte of the number of a glyph
        pdf.pages[0].Contents = pdf.make_stream(drawn[:at] + bytes([drawn[at] ^ 1]) + drawn[at + 1 :])
        assert standing(self.saved(pdf)) == "changed"

    def test_a_font(self) -> None:
        pdf = self.opened()
        kept = (o.get(name) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) for name in FONT_FILES)
        fonts = [font for font in kept if font is not None]
        assert fonts
        program = bytearray(fonts[0].read_bytes())
        program[len(program) // 2] ^= 1
        fonts[0].write(bytes(program))
        assert standing(self.saved(pdf)) == "changed"

    def test_a_picture(self) -> None:
        pdf = self.opened()
        pictures = [o for o in pdf.objects if isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image"]
        assert pictures
        pixels = bytearray(pictures[0].read_bytes())
        pixels[0] ^= 0xFF
        pictures[0].write(bytes(pixels))
        assert standing(self.saved(pdf)) == "changed"

    def test_a_record_in_the_place_of_the_attached_one(self) -> None:
        pdf = self.opened()
        read = json.loads(leaving("json"))
        read["sealed"]["verdict"] = "in" if read["sealed"]["verdict"] != "in" else "out"
        pdf.attachments["record.json"] = json.dumps(read).encode()
        seen = seen_in(self.saved(pdf))
        assert seen.standing == Standing.CHANGED
        assert "proof-attachment-changed" in [finding.code for finding in seen.said]

    def test_saved_anew_without_any_change_its_bytes_are_not_those_that_were_signed(self) -> None:
        assert standing(self.saved(self.opened())) == "changed"

    def test_without_its_signature_the_data_still_stand_and_the_page_cannot_be_compared(self) -> None:
        pdf = self.opened()
        del pdf.Root.AcroForm
        del pdf.Root.Perms
        del pdf.pages[0].Annots
        seen = seen_in(self.saved(pdf))
        assert seen.standing == Standing.DATA_ONLY
        assert seen.public == KEY.public
        assert seen.export is not None
        assert seen.export["record"] == 1

    @pytest.mark.parametrize("name", ["dcc.xml", "record.json"])
    def test_without_its_signature_every_file_in_it_has_to_hold(self, name: str) -> None:
        pdf = self.opened()
        del pdf.Root.AcroForm
        del pdf.Root.Perms
        del pdf.pages[0].Annots
        changed_file = leaving("dcc").replace(b"<si:value>", b"<si:value>9", 1)
        pdf.attachments[name] = changed_file if name == "dcc.xml" else b'{"signature":1'
        assert standing(self.saved(pdf)) == "changed"

    def test_a_file_attached_twice_is_a_change(self) -> None:
        pdf = self.opened()
        names = pdf.Root.Names.EmbeddedFiles.Names
        names.append(names[-2])
        names.append(names[-1])
        assert standing(self.saved(pdf)) == "changed"

    def test_a_file_with_two_contents_is_a_change(self) -> None:
        pdf = self.opened()
        del pdf.Root.AcroForm
        del pdf.Root.Perms
        del pdf.pages[0].Annots
        kept = pdf.Root.Names.EmbeddedFiles.Names[-1].EF
        kept.UF = pdf.make_stream(b"something else")
        assert standing(self.saved(pdf)) != "data-only"

    def test_a_small_file_cannot_fill_the_memory(self) -> None:
        import time

        pdf = self.opened()
        pdf.attachments["dcc.xml"] = b"<dcc:digitalCalibrationCertificate>" + b"<a/>" * 4_000_000
        content, began = self.saved(pdf), time.perf_counter()
        assert len(content) < 300_000
        assert standing(content) == "changed"
        assert time.perf_counter() - began < 5

    def test_something_added_behind_it(self) -> None:
        from pyhanko.pdf_utils import generic
        from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

        writer = IncrementalPdfFileWriter(io.BytesIO(leaving("pdf")))
        writer.root["/PageMode"] = generic.pdf_name("/UseOutlines")
        writer.update_root()  # type: ignore[no-untyped-call]
        out = io.BytesIO()
        writer.write(out)  # type: ignore[no-untyped-call]
        seen = seen_in(out.getvalue())
        assert seen.standing == Standing.CHANGED
        assert [finding.code for finding in seen.said] == ["proof-added-after"]

    def test_a_signature_that_no_field_names_any_more(self) -> None:
        seen = seen_in(leaving("pdf").replace(b"/AcroForm", b"/AcroFrom"))
        assert seen.standing == Standing.CHANGED
        assert "proof-signature-changed" in [finding.code for finding in seen.said]

    def test_bytes_behind_its_end(self) -> None:
        assert standing(leaving("pdf") + b"\n% a note\n") != "intact"

    def test_bytes_before_its_beginning(self) -> None:
        assert standing(b"\n" + leaving("pdf")) != "intact"


class TestJson:
    def read(self) -> dict[str, object]:
        read: dict[str, object] = json.loads(leaving("json"))
        return read

    def test_written_anew_by_another_program_its_data_stand(self) -> None:
        seen = seen_in(json.dumps(self.read(), indent=2).encode())
        assert (seen.standing, [f.code for f in seen.said]) == (Standing.DATA_ONLY, ["proof-rewritten"])

    def test_other_ways_to_write_the_same_are_not_what_was_signed(self) -> None:
        read = self.read()
        turned = json.dumps(dict(reversed(read.items())), ensure_ascii=False, separators=(",", ":"))
        point = leaving("json").replace(b'"record":1,', b'"record":1.0,')
        assert point != leaving("json")
        for content in (turned.encode(), point, b"\xef\xbb\xbf" + leaving("json")):
            assert standing(content) == "data-only"

    def test_half_a_character_is_a_change(self) -> None:
        content = leaving("json").replace(b'"tool_number":"', b'"tool_number":"\\ud800', 1)
        assert standing(content) == "changed"

    def test_what_was_changed_in_the_ledger_does_not_leave_signed(self) -> None:
        read = json.loads(leaving("json"))
        del read["signature"]
        read["content"]["tool_number"] = "T-99"
        assert b'"over"' in leaving("json")
        assert b'"over"' not in signed_json(read, KEY)

    def test_a_name_twice_in_one_object_is_a_change(self) -> None:
        content = leaving("json")
        assert standing(b'{"record":2,' + content[1:]) == "changed"

    def test_a_reading_is_told_from_what_stands_around_it(self) -> None:
        read = json.loads(leaving("json"))
        read["content"]["pulls"][0]["pull"]["reading"] = "1 N·m"
        assert [f.code for f in seen_in(json.dumps(read).encode()).said] == ["proof-content-changed"]
        read = json.loads(leaving("json"))
        read["sealed"]["next_due"] = "2099-01-01"
        assert [f.code for f in seen_in(json.dumps(read).encode()).said] == ["proof-around-changed"]

    def test_with_a_digest_made_to_fit_the_signature_on_the_seal_does_not(self) -> None:
        import hashlib

        import rfc8785

        read = json.loads(leaving("json"))
        read["content"]["pulls"][0]["pull"]["reading"] = "1 N·m"
        read["digest"] = hashlib.sha256(rfc8785.dumps(read["content"])).hexdigest()
        assert [f.code for f in seen_in(json.dumps(read).encode()).said] == ["proof-seal-changed"]

    def test_without_the_signature_of_the_file_the_one_on_the_seal_speaks(self) -> None:
        read = self.read()
        del read["signature"]
        seen = seen_in(json.dumps(read).encode())
        assert (seen.standing, seen.public) == (Standing.DATA_ONLY, KEY.public)
        assert [f.code for f in seen.said] == ["proof-content-alone"]
        assert seen.export is not None
        assert set(seen.export) == {"record", "digest", "content"}  # all that is signed of it

    def test_without_any_signature_nothing_can_be_said(self) -> None:
        read = self.read()
        del read["signature"]
        read["signed"] = []
        assert seen_in(json.dumps(read).encode()).standing == Standing.UNSIGNED


class TestCertificate:
    """Other ways to write the same are no way to write what was signed: readers of XML differ in them."""

    @pytest.mark.parametrize(
        ("was", "now"),
        [
            (b"<si:value>", b"<si:value><!-- -->"),
            (b'schemaVersion="3.3.0"', b"schemaVersion='3.3.0'"),
            (b'xmlns:xsi="', b'xmlns:note="urn:withdrawn" xmlns:xsi="'),
            (b'xmlns:xsi="', b'xmlns:note="x" xmlns:xsi="'),
            (b"</ds:Signature>", b"</ds:Signature>more"),
            (b"</dcc:digitalCalibrationCertificate>", b"<x/></dcc:digitalCalibrationCertificate>"),
            (b"?>\n", b'?>\n<?xml-stylesheet href="x.xsl"?>\n'),
            (b"?>\n", b"?>\n<!-- all points are in -->\n"),
            (b"?>\n", b'?>\n<!DOCTYPE x [<!ENTITY a "b">]>\n'),
        ],
    )
    def test_it_is_changed(self, was: bytes, now: bytes) -> None:
        assert was in leaving("dcc")
        assert standing(leaving("dcc").replace(was, now, 1)) == "changed"

    def test_the_certificate_of_the_key_under_another_name_is_a_change(self) -> None:
        import base64

        from steelyard.proof.certificate import own_certificate

        mine, other = (base64.b64encode(own_certificate(KEY, name).dump()) for name in (NAME, "Another yard"))
        assert mine in leaving("dcc")
        assert standing(leaving("dcc").replace(mine, other)) == "changed"

    def test_without_the_signature_nothing_can_be_said(self) -> None:
        content = leaving("dcc")
        begin, end = content.index(b"<ds:Signature "), content.index(b"</ds:Signature>") + 15
        assert standing(content[:begin] + content[end:]) == "unsigned"

    def test_it_is_signed_by_the_rules_of_the_standard_too(self) -> None:
        """Step by step as XML Signature 1.1, 3.2 has it, by another reader of XML's canonical form."""
        import base64
        import hashlib

        from cryptography import x509
        from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
        from lxml import etree

        def canonical(element: etree._Element) -> bytes:
            return etree.tostring(element, method="c14n", exclusive=True)

        ds = "{http://www.w3.org/2000/09/xmldsig#}"
        root = etree.fromstring(leaving("dcc"))
        signature = root[-1]
        (info,), (value,) = signature.iter(f"{ds}SignedInfo"), signature.iter(f"{ds}SignatureValue")
        whole, written = (
            base64.b64decode(reference.findtext(f"{ds}DigestValue") or "")
            for reference in info.iter(f"{ds}Reference")
        )
        (signed_object,), (named,) = signature.iter(f"{ds}Object"), signature.iter(f"{ds}X509Certificate")
        assert hashlib.sha256(canonical(signed_object)).digest() == written
        public = x509.load_der_x509_certificate(base64.b64decode(named.text or "")).public_key()
        assert isinstance(public, Ed25519PublicKey)
        public.verify(base64.b64decode(value.text or ""), canonical(info))
        root.remove(signature)
        assert hashlib.sha256(canonical(root)).digest() == whole


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"hello",
        b"%PDF-1.7\nnothing",
        b"<a/>",
        b"{}",
        b"[1]",
        b"\x00" * 100,
        b"<" * 100_000,
        b"[" * 100_000,
    ],
)
def test_what_is_none_of_ours_is_refused(content: bytes) -> None:
    with pytest.raises(InputRefused) as refused:
        seen_in(content)
    assert refused.value.field == "file"
