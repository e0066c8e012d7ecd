"""Pages and answers of signatures: a file held against its own, the workshop's key, keys of others."""

import hashlib
import io
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import rfc8785
from starlette.testclient import TestClient

from proof.signed_shop import EXAMPLES, KEY, OTHER, SignedShop, leaving
from steelyard.bootstrap import Workshop, workshop
from steelyard.desk import record_file
from steelyard.desk.signing import accept_key, known_keys, own_keys
from steelyard.proof import Standing, fingerprint, key_in_lines, seen_in
from steelyard.store import KEY_FILE
from steelyard.web import make_app
from web.shop import HOME

EXAMPLE = (EXAMPLES / "click-wrench-on-adapter.toml").read_bytes()
PHRASE = "seven herons on a slip"


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Workshop]:
    """A workshop in a folder, with one sealed record."""
    with workshop(tmp_path / "shop") as opened:
        record_file(opened.acting(), EXAMPLE)
        yield opened


@pytest.fixture
def client(shop: Workshop) -> TestClient:
    """A browser that speaks to it."""
    return TestClient(make_app(shop), base_url=HOME, headers={"Origin": HOME})


def looked_at(client: TestClient, content: bytes, **typed: str) -> str:
    """What the page says of a file."""
    return client.post("/verify", data=typed, files={"file": ("a file", content)}).text


class TestFiles:
    @pytest.mark.parametrize("address", ["record.pdf", "dcc.xml", "content.json"])
    def test_what_leaves_by_the_page_is_intact_by_page_and_by_program(
        self, client: TestClient, address: str
    ) -> None:
        content = client.get(f"/book/1/{address}").content
        assert "Intact" in looked_at(client, content)
        said = client.post("/api/verify", content=content).json()
        assert (said["standing"], said["is_own"], said["known_as"]) == ("intact", True, "")

    @pytest.mark.parametrize("address", ["paper", "dcc", ""])
    def test_what_leaves_by_the_programs_door_is_the_same(self, client: TestClient, address: str) -> None:
        content = client.get(f"/api/records/1/{address}".rstrip("/")).content
        assert seen_in(content).standing == Standing.INTACT

    def test_a_changed_file_is_called_changed_and_says_what(self, client: TestClient) -> None:
        content = client.get("/book/1/content.json").content.replace(b'"verdict":"', b'"verdict":"x', 1)
        text = looked_at(client, content)
        assert "Changed" in text
        assert "The ledger of this workshop has another record of that number" in text
        assert client.post("/api/verify", content=content).json()["standing"] == "changed"

    def test_an_unknown_key_can_be_vouched_for_and_kept(self, client: TestClient, shop: Workshop) -> None:
        assert "Unknown key" in looked_at(client, leaving("pdf"))
        assert "Intact" in looked_at(client, leaving("pdf"), fingerprint=fingerprint(KEY.public))
        typed = {"public": KEY.public, "name": "the boatyard"}
        assert client.post("/verify/key", data=typed, follow_redirects=False).status_code == 303
        assert "the boatyard" in looked_at(client, leaving("dcc"))
        client.post("/settings/key/drop", data={"public": KEY.public})
        assert KEY.public not in known_keys(shop.ledger)

    def test_without_a_name_a_key_is_not_kept_and_can_still_be(self, client: TestClient) -> None:
        answer = client.post("/verify/key", data={"public": KEY.public, "name": ""})
        assert answer.status_code == 422
        assert KEY.public in answer.text

    @pytest.mark.parametrize("public", ["zz", "", "AB" * 32, "ab" * 31, "ab" * 32 + "\n", "<b>"])
    def test_what_is_no_key_is_refused_and_nothing_written(
        self, client: TestClient, shop: Workshop, public: str
    ) -> None:
        before = shop.ledger.head()
        answer = client.post("/verify/key", data={"public": public, "name": "the boatyard"})
        assert answer.status_code == 422
        assert "64 digits" in answer.text
        assert shop.ledger.head() == before
        assert client.get("/settings/key").status_code == 200

    @pytest.mark.parametrize("content", [b"", b"hello", b"%PDF-1.7"])
    def test_what_is_none_of_ours_is_refused_beside_the_field(
        self, client: TestClient, content: bytes
    ) -> None:
        answer = client.post(
            "/verify", data={"fingerprint": fingerprint(KEY.public)}, files={"file": ("a file", content)}
        )
        assert answer.status_code == 422
        assert 'id="f-file-trouble"' in answer.text
        assert f'value="{fingerprint(KEY.public)}"' in answer.text

    def test_a_fingerprint_that_is_none_is_refused_beside_its_field(self, client: TestClient) -> None:
        answer = client.post(
            "/verify", data={"fingerprint": "12"}, files={"file": ("a file", leaving("json"))}
        )
        assert 'id="f-fingerprint-trouble"' in answer.text

    def test_a_record_that_somebody_signed_with_nonsense_in_it_breaks_no_page(
        self, client: TestClient
    ) -> None:
        from steelyard.proof import signed_json

        contents: list[dict[str, Any]] = [
            {"check": "c"},
            {"check": "c", "verdicts": 3},
            {"check": "c", "verdicts": {"as-found": {}}},
        ]
        for content in contents:
            digest = hashlib.sha256(rfc8785.dumps(content)).hexdigest()
            nonsense = {"record": 1, "digest": digest, "content": content, "sealed": None, "signed": "x"}
            assert "Unknown key" in looked_at(client, signed_json(nonsense, OTHER))

    def test_hostile_text_in_a_file_comes_out_as_text(self, client: TestClient) -> None:

        bad = "<script>alert(1)</script>"
        export = {"record": 1, "digest": bad, "content": {"tool_number": bad}, "sealed": {"day": bad}}
        text = looked_at(client, json.dumps({**export, "signed": []}).encode())
        assert "<script>alert" not in text
        assert "&lt;script&gt;" in text


class TestKey:
    def test_the_page_tells_the_fingerprint_and_never_the_key(
        self, client: TestClient, shop: Workshop
    ) -> None:
        text = client.get("/settings/key").text
        mark = shop.keyring.said().fingerprint
        assert all(four in text for four in mark.split())
        assert "PRIVATE" not in text
        assert not any(line in text for line in shop.keyring.lines())

    def test_the_recovery_sheet_gives_the_key_back(self, client: TestClient, shop: Workshop) -> None:
        import re

        import pypdfium2

        assert client.get("/settings/key/sheet").status_code == 405
        content = client.post("/settings/key/sheet").content
        assert client.post("/api/key/sheet").content == content
        text = pypdfium2.PdfDocument(io.BytesIO(content))[0].get_textpage().get_text_range()
        lines = re.findall(r"(?:[0-9a-f]{4} ){4}[0-9a-f]{4}", text)
        assert key_in_lines("\n".join(lines[:4])) == shop.keyring.signer()

    def test_a_copy_lies_beside_the_backups_and_brings_it_back(
        self, client: TestClient, shop: Workshop
    ) -> None:
        before = shop.keyring.said()
        assert "key-" in client.post("/settings/key/copy", data={"phrase": PHRASE, "again": PHRASE}).text
        (copy,) = shop.backup_folder.glob("key-*.pem")
        (shop.folder / KEY_FILE).unlink()
        assert "not in its folder" in client.get("/settings/key").text
        wrong = client.post(
            "/settings/key/back",
            data={"phrase_of_file": "something else"},
            files={"key": ("k", copy.read_bytes())},
        )
        assert 'id="f-phrase_of_file-trouble"' in wrong.text
        client.post(
            "/settings/key/back", data={"phrase_of_file": PHRASE}, files={"key": ("k", copy.read_bytes())}
        )
        assert shop.keyring.said() == before

    def test_the_same_copy_asked_for_twice_is_one_file(self, client: TestClient, shop: Workshop) -> None:
        typed = {"phrase": PHRASE, "again": PHRASE}
        first, second = (client.post("/settings/key/copy", data=typed).status_code for _ in range(2))
        place = client.post("/api/key/copy", json=typed).json()["place"]
        assert (first, second) == (200, 200)
        assert list(shop.backup_folder.glob("key-*")) == [Path(place)]

    def test_a_foreign_key_is_told_and_signs_nothing(self, client: TestClient, shop: Workshop) -> None:
        (shop.folder / KEY_FILE).write_bytes(OTHER.in_pem())
        text = client.get("/settings/key").text
        assert "that of another workshop" in text
        assert "/settings/key/sheet" not in text
        assert "/settings/key/back" in text
        assert client.get("/api/key").json()["state"] == "foreign"
        assert client.post("/api/records/1/signature", json={}).status_code == 422
        assert seen_in(client.get("/book/1/record.pdf").content).public != OTHER.public
        assert OTHER.public not in own_keys(shop.ledger)

    def test_one_that_cannot_be_read_breaks_no_page(self, client: TestClient, shop: Workshop) -> None:
        (shop.folder / KEY_FILE).unlink()
        (shop.folder / KEY_FILE).mkdir()
        for address in ("/settings/key", "/book/1", "/book/1/record.pdf", "/api/key"):
            assert client.get(address).status_code == 200
        assert client.get("/api/key").json()["state"] == "missing"

    def test_the_page_says_where_a_replaced_key_lies_and_what_becomes_of_it(
        self, client: TestClient, shop: Workshop
    ) -> None:
        assert "key-replaced-" not in client.get("/settings/key").text
        client.post("/settings/key/new", data={"known": shop.keyring.said().fingerprint, "sure": "yes"})
        text = client.get("/settings/key").text
        (place,) = client.get("/api/key").json()["laid"]
        assert Path(place).is_file()
        assert place in text
        assert "delete that file" in text

    def test_a_new_key_asked_for_twice_by_a_program_is_one(self, client: TestClient, shop: Workshop) -> None:
        sent = {"known": shop.keyring.said().fingerprint, "submission": "once"}
        first, second = (client.post("/api/key/new", json=sent) for _ in range(2))
        assert (first.status_code, first.json()) == (second.status_code, second.json())
        assert len(own_keys(shop.ledger)) == 2

    def test_a_pass_phrase_is_never_shown_again(self, client: TestClient) -> None:
        for typed in ({"phrase": PHRASE, "again": "another"}, {"phrase": "short", "again": "short"}):
            answer = client.post("/settings/key/copy", data=typed)
            assert answer.status_code == 422
            assert typed["phrase"] not in answer.text.replace("shorter", "")

    def test_lines_with_one_slip_stay_to_be_mended(self, client: TestClient, shop: Workshop) -> None:
        first, *rest = shop.keyring.lines()
        typed = "\n".join([("1" if first[0] != "1" else "2") + first[1:], *rest])
        answer = client.post("/settings/key/back", data={"lines": typed})
        assert answer.status_code == 422
        assert rest[0] in answer.text
        assert "line 1" in answer.text

    def test_nothing_given_is_refused(self, client: TestClient) -> None:
        assert 'id="f-lines-trouble"' in client.post("/settings/key/back", data={"lines": " "}).text

    def test_a_new_key_needs_a_tick_and_the_page_of_now(self, client: TestClient, shop: Workshop) -> None:
        before = shop.keyring.said()
        assert client.post("/settings/key/new", data={"known": before.fingerprint}).status_code == 422
        client.post("/settings/key/new", data={"known": "", "sure": "yes"})
        assert shop.keyring.said() == before
        client.post("/settings/key/new", data={"known": before.fingerprint, "sure": "yes"})
        assert shop.keyring.said().public == own_keys(shop.ledger)[-1] != before.public

    def test_programs_do_the_same(self, client: TestClient, shop: Workshop) -> None:
        said = client.get("/api/key").json()
        assert (said["state"], said["others"]) == ("there", [])
        place = client.post("/api/key/copy", json={"phrase": PHRASE, "again": PHRASE}).json()["place"]
        pem = Path(place).read_text()
        assert (
            client.post("/api/key/new", json={"known": said["fingerprint"]}).json()["public"]
            != said["public"]
        )
        back = client.post("/api/key/back", json={"copy_of_key": pem, "phrase": PHRASE}).json()
        assert back["public"] == said["public"]
        known = client.post("/api/keys", json={"public": KEY.public, "name": "the boatyard"}).json()
        assert known["others"] == [
            {"name": "the boatyard", "public": KEY.public, "fingerprint": fingerprint(KEY.public)}
        ]
        assert client.post("/api/keys/drop", json={"public": KEY.public}).json()["others"] == []
        assert client.post("/api/keys", json={"public": "xyz", "name": "a"}).status_code == 422


class TestSigning:
    def test_a_record_from_before_there_was_a_key_is_signed_from_its_page_once(self) -> None:
        there = SignedShop(key=None)
        shop = there.workshop
        with TestClient(make_app(shop), base_url=HOME, headers={"Origin": HOME}) as client:
            assert "Nobody signed this record yet" in client.get("/book/1").text
            answer = client.post("/book/1/signature", data={}, follow_redirects=False)
            assert answer.headers["location"] == "/settings/key"

    def test_its_page_and_paper_say_by_which_key(self, client: TestClient, shop: Workshop) -> None:
        import pypdfium2

        mark = shop.keyring.said().fingerprint
        assert mark in client.get("/book/1").text
        pdf = pypdfium2.PdfDocument(io.BytesIO(client.get("/book/1/record.pdf").content))
        text = " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pdf)
        assert mark in text
        assert client.post("/api/records/1/signature", json={}).json() == {"is_new": False}

    def test_a_key_accepted_is_listed_by_its_name(self, client: TestClient, shop: Workshop) -> None:
        accept_key(shop.acting(), {"name": "<b>the boatyard</b>"}, public=KEY.public)
        assert "&lt;b&gt;the boatyard" in client.get("/settings/key").text
