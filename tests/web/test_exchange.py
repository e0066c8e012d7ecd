"""In and out: what can be taken away from a page, and by a program."""

import csv
import io
import json
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook
from starlette.testclient import TestClient

import sealed
from steelyard.bootstrap import Workshop, workshop, workshop_zip
from steelyard.desk import add_person
from steelyard.desk.tables_out import TABLES
from steelyard.sheets.tables import FORMS, MEDIA_TYPES
from steelyard.web import make_app
from web.forms_on_page import read_page
from web.shop import HOME, make_workshop
from web.test_every_page import NASTY


def client_of(opened: Workshop) -> TestClient:
    """Somebody who looks at its pages."""
    return TestClient(make_app(opened), base_url=HOME, headers={"Origin": HOME})


@pytest.fixture(scope="module")
def opened() -> Workshop:
    """A workshop with a record."""
    made = make_workshop()
    key = add_person(made.acting(), {"person": "rigger"}).key
    acting = made.acting(who=key)
    sealed.adjusted(acting, sealed.tool(acting), sealed.transducer(acting))
    return made


@pytest.fixture(scope="module")
def client(opened: Workshop) -> TestClient:
    return client_of(opened)


@pytest.mark.parametrize("what", TABLES)
@pytest.mark.parametrize("form", FORMS)
def test_every_table_is_a_link_of_the_page(client: TestClient, what: str, form: str) -> None:
    assert f"/exchange/{what}.{form}" in read_page(client.get("/exchange").text).links
    page = client.get(f"/exchange/{what}.{form}")
    program = client.get(f"/api/tables/{what}", params={"as": form})
    assert (page.status_code, page.content) == (200, program.content)
    assert page.headers["content-type"] == program.headers["content-type"] == MEDIA_TYPES[form]
    assert page.headers["content-disposition"] == f'attachment; filename="{what}.{form}"'
    assert page.headers["cache-control"] == "no-store"


def test_a_program_gets_csv_where_it_does_not_say(client: TestClient) -> None:
    answer = client.get("/api/tables/records")
    (row,) = csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"), newline=""))
    assert (row["record"], row["who"], row["verdict"]) == ("1", "rigger", "in")


def test_a_workbook_opens(client: TestClient) -> None:
    content = client.get("/exchange/pulls.xlsx").content
    rows = CalamineWorkbook.from_filelike(io.BytesIO(content)).get_sheet_by_name("pulls").to_python()
    assert "slipped" in [row[rows[0].index("struck_out")] for row in rows]


def test_the_book_hands_on_how_it_is_narrowed(client: TestClient) -> None:
    links = read_page(client.get("/book?words=T-02&verdict=in").text).links
    assert "/exchange?words=T-02&verdict=in" in links
    page = client.get("/exchange?words=T-02&verdict=in")
    assert "as they are narrowed in the book" in page.text
    links = read_page(page.text).links
    assert "/exchange/records.csv?words=T-02&verdict=in" in links and "/exchange/rack.csv" in links
    assert json.loads(client.get("/exchange/records.json?words=moon").content)["rows"] == []
    assert len(json.loads(client.get("/exchange/records.json?words=T-02&verdict=in").content)["rows"]) == 1


@pytest.mark.parametrize("place", ["/rack", "/rigs", "/book"])
def test_the_places_lead_there(client: TestClient, place: str) -> None:
    assert "/exchange" in read_page(client.get(place).text).links


@pytest.mark.parametrize("address", ["/exchange/rack.ods", "/api/tables/rack?as=ods"])
def test_another_form_is_refused(client: TestClient, address: str) -> None:
    answer = client.get(address)
    assert (answer.status_code, "csv, xlsx, json" in answer.text) == (422, True)


@pytest.mark.parametrize("address", ["/exchange/jobs.csv", "/api/tables/jobs", "/exchange/jobs"])
def test_another_table_is_not_there(client: TestClient, address: str) -> None:
    assert client.get(address).status_code == 404


def test_a_program_is_told_which_field_is_refused(client: TestClient) -> None:
    answer = client.get("/api/tables/pulls", params={"tool": "T-99"})
    assert (answer.status_code, answer.json()["field"]) == (422, "tool")
    answer = client.get("/api/tables/rack", params={"words": "x"})
    assert (answer.status_code, answer.json()["field"]) == (422, "words")


@pytest.mark.parametrize("nasty", NASTY)
def test_whatever_stands_in_the_address_is_no_fault_of_ours(client: TestClient, nasty: str) -> None:
    for name in ("words", "tool", "who", "verdict", "day_from", "as"):
        assert client.get("/exchange", params={name: nasty}).status_code == 200
        assert client.get("/exchange/records.csv", params={name: nasty}).status_code in (200, 422)
        assert client.get("/api/tables/records", params={name: nasty}).status_code in (200, 422)


@pytest.fixture
def on_disk(tmp_path: Path) -> Iterator[Workshop]:
    """A workshop in a folder."""
    with workshop(tmp_path / "shop") as made:
        add_person(made.acting(), {"person": "rigger"})
        yield made


def test_the_whole_workshop_goes_out_by_page_and_program(on_disk: Workshop) -> None:
    client = client_of(on_disk)
    assert "/exchange/workshop.zip" in read_page(client.get("/exchange").text).links
    whole = b"".join(workshop_zip(on_disk))
    for address in ("/exchange/workshop.zip", "/api/workshop.zip"):
        answer = client.get(address)
        assert (answer.status_code, answer.content) == (200, whole)
        assert answer.headers["content-type"] == "application/zip"
        assert answer.headers["content-disposition"] == 'attachment; filename="workshop.zip"'
    with zipfile.ZipFile(io.BytesIO(whole)) as archive:
        assert b"rigger" in archive.read("names.jsonl")


def test_the_page_says_that_names_are_in_it(on_disk: Workshop) -> None:
    assert "The names of people are in it" in client_of(on_disk).get("/exchange").text


def test_a_workshop_in_memory_has_no_zip(client: TestClient) -> None:
    assert "/exchange/workshop.zip" not in read_page(client.get("/exchange").text).links
    assert client.get("/exchange/workshop.zip").status_code == 404
    assert client.get("/api/workshop.zip").json()["error"] == "NotFound"
