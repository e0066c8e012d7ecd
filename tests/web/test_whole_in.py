"""A whole workshop brought by a page into one that was not begun: all of it, or nothing."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from proof.signed_shop import EXAMPLES
from steelyard.bootstrap import Workshop, demo_workshop, workshop, workshop_zip
from steelyard.desk import record_file
from steelyard.web import make_app
from web.shop import HOME

EXAMPLE = (EXAMPLES / "click-wrench-on-adapter.toml").read_bytes()


@pytest.fixture
def there(tmp_path: Path) -> Iterator[Workshop]:
    """A workshop with a record."""
    with workshop(tmp_path / "there") as opened:
        record_file(opened.acting(), EXAMPLE)
        yield opened


@pytest.fixture
def here(tmp_path: Path) -> Iterator[Workshop]:
    """One that was not begun."""
    with workshop(tmp_path / "here") as opened:
        yield opened


@pytest.fixture
def client(here: Workshop) -> TestClient:
    """A browser in front of it."""
    return TestClient(make_app(here), base_url=HOME, headers={"Origin": HOME})


def packed(opened: Workshop) -> bytes:
    """Its zip."""
    return b"".join(workshop_zip(opened))


def brought(client: TestClient, content: bytes) -> str:
    """What the page says once the zip was brought."""
    return client.post("/exchange/whole", files={"file": ("workshop.zip", content)}).text


def test_the_first_page_leads_there(client: TestClient) -> None:
    assert "/exchange/whole" in client.get("/welcome").text


def test_all_of_it_comes_with_the_same_digest(client: TestClient, here: Workshop, there: Workshop) -> None:
    text = brought(client, packed(there))
    assert "All of it is here" in text
    assert here.ledger.head() == there.ledger.head()
    assert here.verify().is_whole
    assert client.get("/book/1").status_code == 200
    assert here.keyring.said().state == "missing"


def test_programs_do_the_same(client: TestClient, here: Workshop, there: Workshop) -> None:
    said = client.post("/api/workshop.zip", content=packed(there)).json()
    assert said == {"entries": there.ledger.head().number, "digest": there.ledger.head().digest}
    assert client.post("/api/workshop.zip", content=packed(there)).status_code == 422


def test_what_does_not_hold_leaves_nothing(client: TestClient, here: Workshop, there: Workshop) -> None:
    for content in (packed(there)[:-100], b"no zip", b""):
        brought(client, content)
        assert here.ledger.head().number == 0
    assert "note-grave" in brought(client, b"no zip")


def test_without_a_file_it_asks_for_one(client: TestClient) -> None:
    assert 'id="f-file-trouble"' in client.post("/exchange/whole", data={}).text


def test_two_chains_do_not_become_one(client: TestClient, here: Workshop, there: Workshop) -> None:
    record_file(here.acting(), EXAMPLE)
    head = here.ledger.head()
    assert "was begun" in brought(client, packed(there))
    assert here.ledger.head() == head


def test_a_made_up_workshop_never_enters_a_real_one(
    client: TestClient, here: Workshop, tmp_path: Path
) -> None:
    with demo_workshop(tmp_path / "demo") as demo:
        record_file(demo.acting(), EXAMPLE)
        assert "made-up" in brought(client, packed(demo))
    assert here.ledger.head().number == 0
