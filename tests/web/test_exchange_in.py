"""A list comes in by its pages: tried, its rows shown, kept as a whole, its file gone at the end."""

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from desk.bench_shop import bench_shop
from steelyard.desk import add_tool
from steelyard.desk.columns_in import USUAL, WHATS
from steelyard.sheets.reading import opened_sheet
from steelyard.web.exchange_run import MOST_RUNS, InRuns
from web.shop import CLICK, Shop, shop

HEAD = "number,kind,lowest,highest,unit,limit.published,notes\n"
GOOD = HEAD + "T-11,click-preset,20,100,N·m,iso-6789-1-2017,engine shop\n"
BAD = HEAD + "T-12,hammer,20,100,N·m,iso-6789-1-2017,<b>bold</b>\n"
HISTORY = "tool,day,verdict,next_due,who,note\nT-04,2024-03-18,out,2025-03-18,rigger,=cmd|x\n"


@pytest.fixture
def opened() -> Iterator[Shop]:
    with shop() as each:
        yield each


def bring(opened: Shop, text: str, what: str = "rack", name: str = "list.csv") -> str:
    """Bring a file; returns where that leads, or the page that stays."""
    files = {"file": (name, text.encode(), "text/csv")}
    answer = opened.client.post("/exchange/in", data={"what": what}, files=files, follow_redirects=False)
    return answer.headers.get("location", answer.text)


def runs(opened: Shop) -> InRuns:
    found: InRuns = opened.client.app.state.in_runs  # type: ignore[attr-defined]
    return found


def head(opened: Shop) -> int:
    return opened.workshop.ledger.head().number


def test_a_list_is_tried_and_then_kept(opened: Shop) -> None:
    where = bring(opened, GOOD)
    assert "Will be added: 1" in (text := opened.page(where)) and "Keep all 1" in text
    assert head(opened) == 0
    assert opened.send(where, do="keep", submission="s1") == where
    assert "Kept. Rows: 1; entries 1 to 1." in opened.page(where)
    opened.send(where, do="keep", submission="s2")
    assert head(opened) == 1
    assert "T-11" in opened.page("/rack")


def test_refused_rows_are_shown_and_cannot_be_kept(opened: Shop) -> None:
    where = bring(opened, BAD)
    text = opened.page(where)
    assert "Refused: 1" in text and "T-12" in text and "hammer" in text and "Keep all" not in text
    opened.send(where, do="keep", submission="s1")
    assert "mended" in opened.page(where)
    assert head(opened) == 0
    fates = opened.client.get(f"{where}/fates.csv")
    assert fates.headers["content-type"].startswith("text/csv") and "T-12" in fates.text


def test_somebody_wrote_meanwhile(opened: Shop) -> None:
    where = bring(opened, GOOD)
    add_tool(opened.workshop.acting(), {**CLICK, "number": "T-11"})
    opened.send(where, do="keep", submission="s1")
    assert "row 2, number" in opened.page(where)
    assert head(opened) == 1


def test_what_is_no_table_is_said_beside_the_field_and_what_was_chosen_stays(opened: Shop) -> None:
    text = bring(opened, "colour\nred\n", what="rigs")
    assert "colour" in text and 'value="rigs"' in text and 'aria-invalid="true"' in text
    assert runs(opened).runs == {}
    text = opened.send("/exchange/in", 422, what="rack")
    assert "a file" in text
    assert "Choose" in opened.send("/exchange/in", 422, what="")


def test_a_file_is_gone_once_it_is_dropped_or_kept(opened: Shop) -> None:
    where = bring(opened, GOOD)
    (run,) = runs(opened).runs.values()
    assert run.folder.is_dir()
    opened.send(where, do="drop")
    assert not run.folder.exists()
    opened.page(where, 404)
    where = bring(opened, GOOD)
    (run,) = runs(opened).runs.values()
    opened.send(where, do="keep", submission="s1")
    assert [path.name for path in run.folder.iterdir()] == ["fates.csv"]


def test_the_oldest_file_makes_room(opened: Shop) -> None:
    places = [bring(opened, GOOD) for _ in range(MOST_RUNS + 2)]
    assert len(runs(opened).runs) == MOST_RUNS
    opened.page(places[1], 404)
    opened.page(places[-1])


def test_a_run_that_was_stopped_keeps_nothing(opened: Shop) -> None:
    acting = opened.workshop.acting()
    run = InRuns().bring(BytesIO(GOOD.encode()), asked="rack", name="list.csv")
    run.begin(acting)
    run._step = lambda done, of: done + of < 0  # type: ignore[method-assign]
    run.keep(acting)
    assert (run.written, run.is_running, head(opened)) == (None, False, 0)
    run.drop()


@pytest.mark.parametrize("name", ["../../x.csv", "C:\\list\\a.csv", "\u202ex\n.csv", "y" * 500])
def test_the_name_of_a_file_is_shown_without_its_folders(opened: Shop, name: str) -> None:
    text = opened.page(bring(opened, GOOD, name=name))
    assert "../" not in text and "C:" not in text and "\u202e" not in text and "y" * 200 not in text


def test_old_lines_stand_on_the_page_of_the_tool(opened: Shop) -> None:
    tool = add_tool(opened.workshop.acting(), CLICK)
    assert "From an old notebook" not in opened.page(f"/rack/{tool}")
    opened.send(bring(opened, HISTORY, what="history"), do="keep", submission="s1")
    text = opened.page(f"/rack/{tool}")
    assert "From an old notebook (no readings)" in text
    assert "=cmd|x; by rigger; next due 2025-03-18" in text and "list.csv, row 2" in text
    assert 'class="state state-out"' not in text
    told = opened.client.get(f"/api/tools/{tool}").json()
    assert (told["history"][0]["day"], told["checks"], told["next_due"]) == ("2024-03-18", [], "2025-03-18")


@pytest.mark.parametrize("what", WHATS)
@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_an_empty_sheet_has_the_right_columns(opened: Shop, tmp_path: Path, what: str, form: str) -> None:
    answer = opened.client.get(f"/exchange/in/empty/{what}.{form}")
    path = tmp_path / f"{what}.{form}"
    path.write_bytes(answer.content)
    with opened_sheet(path) as sheet:
        assert (sheet.columns, list(sheet.rows)) == (USUAL[what], [])


def test_there_is_no_other_empty_sheet(opened: Shop) -> None:
    opened.page("/exchange/in/empty/people.csv", 404)
    opened.page("/exchange/in/empty/rack.pdf", 404)


def test_an_empty_rack_offers_a_list(opened: Shop) -> None:
    assert 'href="/exchange/in"' in opened.page("/rack")
    assert 'href="/exchange/in"' in opened.page("/exchange")


class TestForPrograms:
    def post(self, opened: Shop, text: str, what: str = "rack", **more: str) -> dict[str, Any]:
        answer = opened.client.post(
            f"/api/tables/{what}", params=more, content=text, headers={"Content-Type": "text/csv"}
        )
        assert answer.status_code == 200, answer.text
        told: dict[str, Any] = answer.json()
        return told

    def test_tried_then_kept_then_there_already(self, opened: Shop) -> None:
        told = self.post(opened, GOOD)
        assert (told["new"], told["is_kept"], head(opened)) == (1, False, 0)
        told = self.post(opened, GOOD, keep="true", submission="s1")
        assert (told["new"], told["is_kept"], told["first"], told["last"]) == (1, True, 1, 1)
        assert self.post(opened, GOOD, keep="true", submission="s1") == told
        told = self.post(opened, GOOD, keep="true")
        assert (told["there"], told["new"], told["is_kept"], told["first"]) == (1, 0, True, None)
        assert head(opened) == 1

    def test_refused_rows_come_with_their_sentences(self, opened: Shop) -> None:
        told = self.post(opened, BAD, keep="true")
        assert (told["refused"], told["is_kept"], head(opened)) == (1, False, 0)
        (row,) = told["rows"]
        assert (row["row"], row["name"], row["field"]) == (2, "T-12", "kind")

    def test_a_token_of_one_file_does_not_answer_for_another(self, opened: Shop) -> None:
        self.post(opened, GOOD, keep="true", submission="s1")
        told = self.post(opened, GOOD.replace("T-11", "T-12"), keep="true", submission="s1")
        assert (told["first"], head(opened)) == (2, 2)

    @pytest.mark.parametrize(("what", "status"), [("people", 404), ("rack", 422)])
    def test_what_cannot_come_in_is_refused(self, opened: Shop, what: str, status: int) -> None:
        answer = opened.client.post(
            f"/api/tables/{what}", content=b"\xff\xfe", headers={"Content-Type": "text/csv"}
        )
        assert answer.status_code == status
        assert set(answer.json()) == {"error", "field", "sentence", "try_again"}


class TestReadings:
    RECORDS = "record,day,tool_number,verdict\n7,2025-03-20,T-04,cant-tell\n"
    PULLS = "tool,reading,target\nT-04,58.9,60\nT-04,59.2 N·m,60\n"

    def test_records_of_another_workshop_stand_on_the_page_of_the_tool(self, opened: Shop) -> None:
        tool = add_tool(opened.workshop.acting(), CLICK)
        where = bring(opened, self.RECORDS, what="records")
        opened.send(where, do="keep", submission="s1")
        assert 'href="/rack"' in opened.page(where)
        assert "record 7, can&#39;t tell" in opened.page(f"/rack/{tool}")

    def test_readings_stand_at_the_bench_as_if_typed(self) -> None:
        ready = bench_shop()
        ready.stand()
        with shop(ready.workshop) as opened:
            where = bring(opened, self.PULLS, what="pulls")
            assert "Will be added: 2" in opened.page(where)
            opened.send(where, do="keep", submission="s1")
            assert "To the checks in hand" in opened.page(where)
            text = opened.page(f"/bench/{ready.check}/as-found?point=1")
            assert "58.9" in text and "59.2" in text
            again = bring(opened, self.PULLS, what="pulls")
            assert "its readings stand in the check in hand of T-04" in again and 'value="pulls"' in again

    def test_they_go_nowhere_else_than_was_shown(self) -> None:
        ready = bench_shop()
        ready.stand()
        ready.pull(("19.6 19.7 19.5 19.7",))
        with shop(ready.workshop) as opened:
            where = bring(opened, "tool,reading\nT-04,19.6\n", what="pulls")
            ready.pull(("19.6",))
            opened.send(where, do="keep", submission="s1")
            assert "would go to other points" in opened.page(where)
            assert len(ready.body["pulls"]) == 5

    def test_a_program_brings_them_once(self) -> None:
        ready = bench_shop()
        with shop(ready.workshop) as opened:
            address, sent = (
                "/api/tables/pulls",
                {"content": self.PULLS, "headers": {"Content-Type": "text/csv"}},
            )
            (row, _) = opened.client.post(address, params={"keep": True}, **sent).json()["rows"]  # type: ignore[arg-type]
            assert (row["row"], row["field"]) == (2, "tool_number") and "begin one" in row["sentence"]
            ready.stand()
            params = {"keep": "true", "submission": "s1"}
            told = opened.client.post(address, params=params, **sent).json()  # type: ignore[arg-type]
            assert (told["new"], told["is_kept"]) == (2, True)
            assert opened.client.post(address, params=params, **sent).json() == told  # type: ignore[arg-type]
            refused = opened.client.post(address, params={"keep": "true"}, **sent)  # type: ignore[arg-type]
            assert (refused.status_code, refused.json()["field"]) == (422, "file")
            assert len(ready.body["pulls"]) == 2
