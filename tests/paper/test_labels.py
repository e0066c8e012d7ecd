"""Labels as they come out of the printer: what eyes and a camera read on them, and where it lies."""

import pytest

from paper.label_shop import ADDRESS, Box, LabelShop, bands, codes, label_box, letters, pages, words
from steelyard.paper.label_sheets import SHEETS, LabelSheet, single_label
from steelyard.paper.labels import code_text, label_words, places
from steelyard.records import Draft, Kind, Subject

LONG = "WERKSTATT-NORD-DREHMOMENT-0000000000147"
HEBREW, ARABIC, CYRILLIC = "מפתח מומנט 7", "مفتاح عزم ٧", "Ключ динамометрический 7"
HOSTILE = ("#panic()", "$x^2$ *b* _i_", "<b>&amp;</b>", '"}\\n{"', "@x <y> `z` // w")
SINGLE = single_label("51", "25")
SMALLEST = single_label("45", "20")
EVERY = [*SHEETS.values(), SINGLE, SMALLEST]


@pytest.fixture
def made() -> LabelShop:
    return LabelShop()


@pytest.mark.parametrize(("name", "count"), [("a4-3x7", 21), ("a4-3x8", 24), ("letter-3x10", 30)])
def test_every_code_of_a_full_sheet_is_read_from_a_coarse_picture(
    made: LabelShop, name: str, count: int
) -> None:
    tools = tuple(made.tool(f"T-{n:02}") for n in range(count))
    (page,) = pages(made.pdf(tools, SHEETS[name]))
    assert [code.text for code in codes(page)] == [f"{ADDRESS}/rack/{tool}" for tool in tools]


@pytest.mark.parametrize("sheet", EVERY, ids=str)
def test_the_code_of_a_tool_that_is_held_is_read_too(made: LabelShop, sheet: LabelSheet) -> None:
    held, good = made.held("T-05", "handle bent"), made.tool("T-06")
    read = [code.text for page in pages(made.pdf((held, good), sheet)) for code in codes(page)]
    assert read == [f"{ADDRESS}/rack/{held}", f"{ADDRESS}/rack/{good}"]


def test_the_longest_address_is_still_read_off_the_smallest_label(made: LabelShop) -> None:
    address = f"https://{'a' * 40}.local:65535"
    assert len(address) <= 60
    (page,) = pages(made.pdf((tool := made.tool("T-01"),), SMALLEST, address=address))
    assert [code.text for code in codes(page, 200)] == [f"{address}/rack/{tool}"]


@pytest.mark.parametrize("number", ["T-01", LONG, HEBREW, ARABIC])
def test_without_an_address_the_code_holds_the_number_alone(made: LabelShop, number: str) -> None:
    (page,) = pages(made.pdf((made.tool(number),), SINGLE, address=""))
    assert [code.text for code in codes(page, 200)] == [f"Tool {number}"]


def test_each_label_lies_on_the_grid_to_a_tenth_of_a_millimetre(made: LabelShop) -> None:
    held = made.held("T-05", "handle bent")
    for sheet in SHEETS.values():
        across, down = map(float, sheet.inset_mm)
        (page,) = pages(made.pdf((held,), sheet, sheet.count - 1))
        assert page.get_width() == pytest.approx(float(sheet.page_width_mm) * 72 / 25.4, abs=0.1)
        for position in (0, sheet.columns - 1, sheet.count // 2, sheet.count - 1):
            (page,) = pages(made.pdf((held,), sheet, position))
            (band,) = bands(page, float(sheet.label_width_mm) - 2 * across)
            place = label_box(sheet, position)
            assert band.left == pytest.approx(place.left + across, abs=0.1)
            assert band.top == pytest.approx(place.top + down, abs=0.1)


def test_positions_used_up_stay_empty_and_the_rest_goes_on_to_the_next_sheet(made: LabelShop) -> None:
    sheet = SHEETS["a4-3x7"]
    tools = tuple(made.tool(f"T-{n:02}") for n in range(5))
    first, second = pages(made.pdf(tools, sheet, 18))
    assert [code.text[-8:] for code in codes(first)] == list(tools[:3])
    assert [code.text[-8:] for code in codes(second)] == list(tools[3:])
    for page, from_position in ((first, 18), (second, 0)):
        for index, code in enumerate(codes(page)):
            assert label_box(sheet, from_position + index).holds(code.box)
    assert [(at.sheet, at.position) for at in places(4, sheet, 19)] == [(0, 19), (0, 20), (1, 0), (1, 1)]


def test_the_same_labels_give_the_same_bytes(made: LabelShop) -> None:
    tools = (made.tool("T-01"), made.held("T-02", "dropped"), made.blank("T-03"))
    assert made.pdf(tools, SINGLE) == made.pdf(tools, SINGLE)


@pytest.mark.parametrize("sheet", EVERY, ids=str)
def test_no_letter_leaves_its_label_or_reaches_the_code(made: LabelShop, sheet: LabelSheet) -> None:
    reason = "the handle is bent, " * 30
    tools = (
        *(made.tool(number, verdict="cant-tell") for number in (LONG, HEBREW, ARABIC, CYRILLIC)),
        made.blank("W" * 40),
        made.held("M" * 39 + "1", reason),
        made.held("W" * 39 + "2", "x" * 400),
        made.held("T-9", ARABIC * 20),
    )
    whole = list(pages(made.pdf(tools, sheet, shop="An uncommonly long name of a workshop " * 2)))
    assert len(whole) == (len(tools) if sheet.count == 1 else 1)
    for number, page in enumerate(whole):
        count = 1 if sheet.count == 1 else len(tools)
        read = codes(page)
        assert len(read) == count, number
        seen = 0
        for position, code in enumerate(read):
            label = label_box(sheet, position)
            mine = [(c, box) for c, box in letters(page) if is_mostly_in(label, box)]
            seen += len(mine)
            assert mine and [c for c, box in mine if not label.holds(box)] == []
            assert [c for c, box in mine if box.meets(code.box)] == []
        assert seen == len(letters(page))


def is_mostly_in(label: Box, box: Box) -> bool:
    """Its middle lies in a label."""
    across, down = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    return label.left <= across <= label.right and label.top <= down <= label.bottom


def test_what_is_too_long_shrinks_and_then_ends_in_an_ellipsis(made: LabelShop) -> None:
    (short,) = pages(made.pdf((made.tool("T-01"),), SINGLE))
    (longer,) = pages(made.pdf((made.tool("WORKSHOP-T-01"),), SINGLE))
    (cut,) = pages(made.pdf((made.tool(LONG),), SINGLE))
    tall, lower, least = (first.bottom - first.top for (_, first), *_ in map(letters, (short, longer, cut)))
    assert tall > 3.5 > lower > least > 1.2
    assert words(longer).startswith("WORKSHOP-T-01 ")
    assert words(cut).startswith("WERKSTATT-NORD-DREH MOMENT-000") and "0… IN 2026" in words(cut)


@pytest.mark.parametrize("verdict", ["in", "out", "cant-tell", "no-limit", "stopped"])
@pytest.mark.parametrize("sheet", [SINGLE, SMALLEST], ids=str)
def test_the_verdict_and_its_day_are_never_cut(made: LabelShop, sheet: LabelSheet, verdict: str) -> None:
    (page,) = pages(made.pdf((made.tool("T-01", verdict=verdict, day="2026-10-20"),), sheet, shop=""))
    assert "2026-10-20" in words(page) and "…" not in words(page)


def test_a_good_tool_says_its_verdict_its_days_and_that_it_was_checked_in_house(made: LabelShop) -> None:
    (page,) = pages(made.pdf((made.tool("T-01"),), SHEETS["a4-3x7"]))
    assert words(page) == ("T-01 Checked 2026-11-20: IN Next check due 2027-11-20 In-house check, Tern Point")


def test_a_tool_without_a_record_says_so_and_nothing_else(made: LabelShop) -> None:
    (page,) = pages(made.pdf((made.blank("T-01"),), SINGLE))
    assert words(page) == "T-01 not checked yet"


def test_a_tool_that_is_held_says_do_not_use_why_and_since_when(made: LabelShop) -> None:
    (page,) = pages(made.pdf((made.held("T-05", "handle bent"),), SINGLE))
    assert words(page) == "DO NOT USE T-05 handle bent since 2026-11-25"
    letter = letters(page)[0][1]
    assert letter.bottom - letter.top > 2.5


def test_a_label_that_says_do_not_use_is_known_by_its_black(made: LabelShop) -> None:
    (held,) = pages(made.pdf((made.held("T-05", "handle bent"),), SINGLE))
    (good,) = pages(made.pdf((made.tool("T-06"),), SINGLE))
    assert ink(held) > 2 * ink(good)
    edge = held.render(scale=4).to_pil().convert("1")
    assert {edge.getpixel(at) for at in ((1, 60), (60, 1), (edge.width - 2, 60), (60, edge.height - 2))} == {
        0
    }


def ink(page: object) -> float:
    """The part of a page that is black."""
    picture = page.render(scale=2).to_pil().convert("1")  # type: ignore[attr-defined]
    black: int = picture.histogram()[0]
    return black / float(picture.width * picture.height)


@pytest.mark.parametrize(
    "doubt",
    [{"verdict": "out"}, {"verdict": "stopped"}, {"next_due": "2026-11-25"}, {"next_due": None}],
    ids=str,
)
def test_a_tool_that_is_not_known_good_is_to_be_checked_before_use(
    made: LabelShop, doubt: dict[str, object]
) -> None:
    (view,) = made.views(made.tool("T-01", **doubt))
    assert label_words(view)["first"] == "Check before use"
    assert "due" not in label_words(view)


def test_a_tool_that_fell_is_to_be_checked_before_use(made: LabelShop) -> None:
    made.happened(name := made.tool("T-01"), "dropped")
    (view,) = made.views(name)
    assert label_words(view)["first"] == "Check before use"


def test_a_record_that_took_a_tool_out_of_use_is_named_with_its_verdict(made: LabelShop) -> None:
    name = made.tool("T-01", verdict="out")
    draft = Draft(Kind.QUARANTINED, Subject.TOOL.named(name), {"note": None, "record": 7})
    made.workshop.acting(who="", device="test").write(draft)
    (view,) = made.views(name)
    assert label_words(view)["reason"] == "OUT, by record 7"


@pytest.mark.parametrize("text", HOSTILE)
def test_markup_is_text_on_a_label(made: LabelShop, text: str) -> None:
    (page,) = pages(made.pdf((made.held(text, f"see {text}"),), single_label("120", "60"), shop=text))
    assert words(page) == f"DO NOT USE {text} see {text} since 2026-11-25"


@pytest.mark.parametrize("text", [HEBREW, ARABIC, CYRILLIC, "Schlüssel № 7 – ½″"])
def test_other_scripts_have_their_letters(made: LabelShop, text: str) -> None:
    (page,) = pages(made.pdf((made.tool(text),), single_label("120", "60")))
    assert "U+" not in words(page)
    assert {c for c in text if c.isdigit()} <= set(words(page))


def test_a_character_that_no_font_has_is_shown_by_its_number(made: LabelShop) -> None:
    (page,) = pages(made.pdf((made.tool("T-🔧1"),), SHEETS["a4-2x7"]))
    assert words(page).startswith("T-U+1F5271 ")


def test_the_code_is_the_address_of_the_page_of_the_tool() -> None:
    assert code_text("3f9a1c20", "T-01", ADDRESS) == "http://bench.local:8735/rack/3f9a1c20"
