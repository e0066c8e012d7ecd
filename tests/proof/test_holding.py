"""A file held against the keys and the ledger of a workshop: whose it is, and if the ledger says the same."""

import json

import pytest

from proof.signed_shop import KEY, OTHER, SignedShop, leaving, shop
from steelyard.desk import correct_record
from steelyard.desk.signing import accept_key, drop_key, known_keys, own_keys, sign_record, unsigned_records
from steelyard.errors import InputRefused
from steelyard.proof import Standing, WorkshopKey, fingerprint, hold, told
from steelyard.store import MemoryLedger

FORMS = ("json", "dcc", "pdf")


@pytest.mark.parametrize("form", FORMS)
class TestWhose:
    def test_its_own_is_intact(self, form: str) -> None:
        held = hold(leaving(form), shop().ledger)
        assert (held.standing, held.is_own, held.whose) == (Standing.INTACT, True, "")
        assert held.fingerprint == fingerprint(KEY.public)
        assert told(held).key == "Signed by this workshop's own key"

    def test_by_a_key_nobody_knows_it_is_not_called_intact(self, form: str) -> None:
        held = hold(leaving(form), MemoryLedger())
        assert (held.standing, held.whose) == (Standing.UNKNOWN_KEY, None)

    def test_the_fingerprint_somebody_told_vouches_for_it(self, form: str) -> None:
        assert hold(leaving(form), MemoryLedger(), told=fingerprint(KEY.public)).standing == Standing.INTACT
        other = hold(leaving(form), MemoryLedger(), told=fingerprint(OTHER.public))
        assert other.standing == Standing.UNKNOWN_KEY

    def test_a_key_that_was_accepted_is_known_by_its_name(self, form: str) -> None:
        there = SignedShop(OTHER)
        accept_key(there.acting(), {"name": "the boatyard"}, public=KEY.public)
        held = hold(leaving(form), there.ledger)
        assert (held.standing, held.whose, held.is_own) == (Standing.INTACT, "the boatyard", False)
        drop_key(there.acting(), KEY.public)
        assert hold(leaving(form), there.ledger).standing == Standing.UNKNOWN_KEY


class TestLedger:
    @pytest.mark.parametrize("form", FORMS)
    def test_the_same_record_is_said_to_be_the_same(self, form: str) -> None:
        held = hold(leaving(form), shop().ledger)
        assert held.beside is not None and held.beside.is_same
        same = "What was sealed is the same in the ledger of this workshop, digit for digit."
        assert told(held).ledger == (same,)

    def test_a_later_correction_is_no_difference(self) -> None:
        there = SignedShop()
        content = there.json()
        correct_record(there.acting(), 1, {"wrong": "title", "right": "autumn round"})
        assert hold(content, there.ledger).standing == Standing.INTACT

    def test_a_changed_reading_is_named_with_both_values(self) -> None:
        read = json.loads(leaving("json"))
        before = read["content"]["pulls"][2]["pull"]["reading"]
        read["content"]["pulls"][2]["pull"]["reading"] = "107.3 N·m"
        held = hold(json.dumps(read).encode(), shop().ledger)
        assert held.standing == Standing.CHANGED
        assert held.beside is not None
        (place,) = held.beside.differences
        assert (place.where, place.there, place.here) == (
            "content · pulls · 3 · pull · reading",
            "107.3 N·m",
            before,
        )

    @pytest.mark.parametrize("form", FORMS)
    def test_by_the_own_key_and_not_in_the_ledger_it_is_no_intact_record(self, form: str) -> None:
        held = hold(leaving(form), _with_the_key_alone())
        assert (held.is_own, held.standing) == (True, Standing.DISPUTED)
        assert "no record of that number" in told(held).ledger[0]

    def test_another_record_of_that_number_by_the_own_key_is_disputed(self) -> None:
        other = SignedShop()
        held = hold(leaving("dcc"), other.ledger)
        assert (held.is_own, held.standing) == (True, Standing.DISPUTED)
        assert held.beside is not None
        assert [place.where for place in held.beside.differences] == ["digest"]

    def test_text_from_a_file_steers_no_terminal(self) -> None:
        read = json.loads(leaving("json"))
        del read["signature"]
        read["signed"] = []
        read["content"]["tool_number"] = "\x1b[2J\x1b[32mIntact\u202e"
        read["sealed"]["day"] = "\r\nIntact"
        said = told(hold(json.dumps(read).encode(), shop().ledger))
        lines = " ".join((said.head, said.why, said.record, said.key, *said.amiss, *said.ledger))
        assert lines.isprintable()

    def test_a_number_no_ledger_holds_is_not_looked_for(self) -> None:
        read = json.loads(leaving("json"))
        for record in (10**30, -1, 2**53 - 1, True, 1.5, "1", None):
            read["record"] = record
            assert hold(json.dumps(read).encode(), shop().ledger).standing == Standing.CHANGED


def _with_the_key_alone() -> MemoryLedger:
    """A ledger that knows the key for its own and has no record."""
    from steelyard.records import Draft

    there, ledger = SignedShop(), MemoryLedger()
    entry = next(e for e in there.ledger.entries() if e.kind == "key-made")
    ledger.append([Draft(entry.kind, entry.subject, entry.payload)], there.acting().stamp())
    return ledger


class TestSigning:
    def test_sealing_signs_in_the_same_breath_and_says_once_whose_key_it_is(self) -> None:
        there = SignedShop()
        kinds = [entry.kind for entry in there.ledger.entries()]
        assert kinds.index("check-closed") < kinds.index("key-made") < kinds.index("signed")
        assert own_keys(there.ledger) == (KEY.public,)
        assert list(unsigned_records(there.ledger)) == []

    def test_without_a_key_it_is_sealed_and_signed_later_once(self) -> None:
        there = SignedShop(key=None)
        assert list(unsigned_records(there.ledger)) == [1]
        with pytest.raises(InputRefused) as refused:
            sign_record(there.acting(), 1)
        assert refused.value.field == "key"
        there.key = KEY
        assert sign_record(there.acting(), 1)
        assert not sign_record(there.acting(), 1)
        assert list(unsigned_records(there.ledger)) == []

    def test_a_new_key_leaves_what_the_old_one_signed(self) -> None:
        there = SignedShop()
        before = there.json()
        there.key = OTHER
        assert sign_record(there.acting(), 1)
        assert own_keys(there.ledger) == (KEY.public, OTHER.public)
        assert hold(before, there.ledger).standing == Standing.INTACT
        assert hold(there.pdf(), there.ledger).standing == Standing.INTACT

    @pytest.mark.parametrize("name", ["", "  ", "x" * 200, "a\x00b"])
    def test_a_key_without_a_fit_name_is_not_accepted(self, name: str) -> None:
        there = SignedShop()
        with pytest.raises(InputRefused) as refused:
            accept_key(there.acting(), {"name": name}, public=OTHER.public)
        assert refused.value.field == "name"
        assert OTHER.public not in known_keys(there.ledger)

    def test_the_own_key_is_never_given_a_name(self) -> None:
        there = SignedShop()
        accept_key(there.acting(), {"name": "somebody else"}, public=KEY.public)
        assert known_keys(there.ledger) == {KEY.public: ""}


class TestBytes:
    @pytest.mark.parametrize("form", FORMS)
    def test_the_same_record_and_key_give_the_same_bytes(self, form: str) -> None:
        assert getattr(shop(), form)() == leaving(form)

    def test_a_record_in_a_pdf_is_the_one_that_leaves_as_json(self) -> None:
        import io

        import pikepdf

        with pikepdf.open(io.BytesIO(leaving("pdf"))) as pdf:
            kept = {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()}
        assert kept["record.json"] == leaving("json")
        assert kept["dcc.xml"] == leaving("dcc")

    def test_another_key_gives_another_signature_on_the_same_record(self) -> None:
        assert SignedShop(WorkshopKey(b"\5" * 32)).json() != SignedShop(KEY).json()
