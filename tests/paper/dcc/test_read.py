"""The certificate of a transducer as the paper of a rig, from files of made-up laboratories."""

import tomllib
from typing import Any

import pytest
import tomli_w

from forms import DRIVER
from paper.dcc.exports import NAMES, export
from paper.dcc.foreign import (
    CORRECTION,
    ERROR,
    GOOD,
    NEWTON_METRE,
    NOMINAL,
    SHOWN,
    TRUE,
    certificate,
    expanded_mu,
    expanded_mu_list,
    expanded_unc,
    expanded_unc_list,
    quantity,
    real,
    real_list,
    standard_mu,
    table,
    xml_list,
)
from paper.dcc.schema import faults, needs_schema
from steelyard.desk import check_content, judge_check
from steelyard.errors import InputRefused
from steelyard.paper.dcc import dcc_of, paper_of_dcc

PERCENT = r"\percent"
TWO = "10.0 50.0"


def rows(content: bytes) -> list[dict[str, Any]]:
    """The rows of the paper."""
    found: list[dict[str, Any]] = paper_of_dcc(content, field="dcc", name="paper.xml").table["row"]
    return found


def refusal(content: bytes, most: int | None = None) -> InputRefused:
    with pytest.raises(InputRefused) as refused:
        paper_of_dcc(content, field="dcc", name="paper.xml", most=most)
    assert refused.value.field == "dcc"
    return refused.value


def one_table(*quantities: str) -> bytes:
    return certificate(table(*quantities))


@needs_schema
def test_the_examples_are_valid_themselves() -> None:
    old = table(quantity(SHOWN, real("10", uncertainty=expanded_unc("0.1"))), quantity(TRUE, real("10")))
    listed = table(quantity(SHOWN, real_list("1", "2")), quantity(TRUE, real_list("1", "2")))
    assert [faults(content) for content in (GOOD, certificate(old), certificate(listed))] == [[], [], []]


def test_number_laboratory_and_days_are_those_of_the_certificate() -> None:
    paper = paper_of_dcc(GOOD, field="dcc", name="paper.xml").table
    said = {name: paper[name] for name in ("certificate", "laboratory", "issued", "due", "states")}
    assert said == {
        "certificate": "TPB-0042",
        "laboratory": "North test bench",
        "issued": "2026-03-02",
        "due": "2027-03-02",
        "states": "torque",
    }


def test_shown_and_true_torques_keep_their_digits() -> None:
    assert rows(GOOD) == [
        {"at": "10.15 N·m", "torque": "010.120 N·m", "U": "0.1976 %", "k": "2"},
        {"at": "50.40 N·m", "torque": "50.30 N·m", "U": "0.09940 %", "k": "2"},
        {"at": "100.0 N·m", "torque": "99.8 N·m", "U": "0.1002 %", "k": "2"},
    ]


def test_what_is_left_out_is_said() -> None:
    notes = paper_of_dcc(GOOD, field="dcc", name="paper.xml").notes
    assert [(note.code, note.facts) for note in notes] == [("dcc-note-left-out", {"count": 1})]


@pytest.mark.parametrize(
    "uncertainty",
    [expanded_mu_list("0.30 0.20", "2.1"), expanded_unc_list("0.30 0.20", "2.1 2.1")],
    ids=["2.2.1", "deprecated"],
)
def test_an_uncertainty_of_a_list_in_either_form(uncertainty: str) -> None:
    content = one_table(
        quantity(NOMINAL, xml_list(TWO)), quantity(ERROR, xml_list("0.30 -0.10", PERCENT, uncertainty))
    )
    assert rows(content) == [
        {"at": "10.0 N·m", "error": "0.30 %", "U": "0.30 %", "k": "2.1"},
        {"at": "50.0 N·m", "error": "-0.10 %", "U": "0.20 %", "k": "2.1"},
    ]


@pytest.mark.parametrize(
    ("uncertainty", "k"),
    [
        (expanded_mu("0.25", "2.05"), "2.05"),
        (expanded_unc("0.25", "2.05"), "2.05"),
        (standard_mu("0.25"), "1"),
    ],
    ids=["2.2.1", "deprecated", "standard"],
)
def test_single_values_in_tables_of_one_row_are_rows_of_one_table(uncertainty: str, k: str) -> None:
    tables = [
        table(quantity(SHOWN, real(at)), quantity(ERROR, real("0.1", PERCENT, uncertainty)))
        for at in ("50", "10")
    ]
    assert rows(certificate("".join(tables))) == [
        {"at": "10 N·m", "error": "0.1 %", "U": "0.25 %", "k": k},
        {"at": "50 N·m", "error": "0.1 %", "U": "0.25 %", "k": k},
    ]


def test_a_list_of_single_values() -> None:
    content = one_table(quantity(SHOWN, real_list("10", "50")), quantity(TRUE, real_list("9.9", "49.9")))
    assert rows(content) == [
        {"at": "10 N·m", "torque": "9.9 N·m"},
        {"at": "50 N·m", "torque": "49.9 N·m"},
    ]
    (note,) = paper_of_dcc(content, field="dcc", name="paper.xml").notes
    assert (note.code, note.facts) == ("dcc-note-no-uncertainty", {"count": 2})


@pytest.mark.parametrize(
    ("kinds", "expected"),
    [
        ((SHOWN, ERROR), ("10.0 N·m", "9.9 N·m")),
        ((TRUE, ERROR), ("10.1 N·m", "10.0 N·m")),
        ((NOMINAL, ERROR), ("10.0 N·m", "9.9 N·m")),
        ((SHOWN, CORRECTION), ("10.0 N·m", "10.1 N·m")),
        ((TRUE, CORRECTION), ("9.9 N·m", "10.0 N·m")),
    ],
)
def test_an_error_in_newton_metres_makes_the_true_torque(
    kinds: tuple[str, str], expected: tuple[str, str]
) -> None:
    beside, off = kinds
    content = one_table(
        quantity(beside, xml_list("10.0")),
        quantity(off, xml_list("0.1", uncertainty=expanded_mu_list("0.02"))),
    )
    (row,) = rows(content)
    assert (row["at"], row["torque"]) == expected
    assert float(row["U"].split()[0]) == pytest.approx(2 / float(expected[1].split()[0]), rel=1e-3)


def test_unit_and_uncertainty_may_stand_once_for_a_list_of_single_values() -> None:
    stated = f"<si:listUnivariateUnc>{expanded_unc('0.05')}</si:listUnivariateUnc>"
    once = f"<si:listUnit>{NEWTON_METRE}</si:listUnit>{stated}"
    values = "".join(f"<si:real><si:value>{value}</si:value></si:real>" for value in ("10", "50"))
    shown = f"<si:list><si:realList>{once}{values}</si:realList></si:list>"
    content = one_table(quantity(SHOWN, shown), quantity(TRUE, xml_list("10 50")))
    assert [(row["at"], row["U"]) for row in rows(content)] == [("10 N·m", "0.5 %"), ("50 N·m", "0.1 %")]


def test_a_correction_in_per_cent_stays_one() -> None:
    content = one_table(quantity(NOMINAL, xml_list("10")), quantity(CORRECTION, xml_list("-0.002", r"\one")))
    assert rows(content) == [{"at": "10 N·m", "correction": "-0.200 %"}]


@pytest.mark.parametrize(
    ("unit", "symbol"),
    [(r"\centi\newton\metre", "cN·m"), (r"\newton\milli\metre", "mN·m"), ("|lbf.ft", "lbf·ft")],
)
def test_other_units_of_torque_are_kept(unit: str, symbol: str) -> None:
    content = one_table(
        quantity(SHOWN, xml_list(TWO, unit)),
        quantity(TRUE, xml_list("9.9 49.9", unit, expanded_mu_list("0.099 0.499"))),
    )
    assert [(row["at"], row["U"]) for row in rows(content)] == [
        (f"10.0 {symbol}", "1 %"),
        (f"50.0 {symbol}", "1 %"),
    ]


def test_of_a_quantity_in_two_units_the_first_is_read() -> None:
    both = f"<si:hybrid>{xml_list(TWO)}{xml_list('7.4 36.9', '|lbf.ft')}</si:hybrid>"
    assert [row["at"] for row in rows(one_table(quantity(SHOWN, both), quantity(TRUE, xml_list(TWO))))] == [
        "10.0 N·m",
        "50.0 N·m",
    ]


def test_of_two_tables_the_first_is_taken_and_that_is_said() -> None:
    first = table(quantity(SHOWN, xml_list(TWO)), quantity(TRUE, xml_list(TWO)))
    second = table(quantity(SHOWN, xml_list("1 2")), quantity(TRUE, xml_list("1 2")))
    read = paper_of_dcc(certificate(first + second), field="dcc", name="paper.xml")
    assert read.table["row"][0]["at"] == "10.0 N·m"
    assert ("dcc-note-tables", {"count": 2}) in [(note.code, note.facts) for note in read.notes]


def test_a_table_of_something_else_is_passed_over() -> None:
    volts = table(
        quantity(SHOWN, xml_list("20 21", r"\degreecelsius")), quantity(TRUE, xml_list("20 21", PERCENT))
    )
    good = table(quantity(SHOWN, xml_list(TWO)), quantity(TRUE, xml_list(TWO)))
    assert len(rows(certificate(volts + good))) == 2


def test_what_was_found_before_adjusting_is_not_what_holds() -> None:
    before = table(quantity(SHOWN, xml_list(TWO)), quantity(TRUE, xml_list("9 49")))
    after = table(quantity(SHOWN, xml_list(TWO)), quantity(TRUE, xml_list("9.99 49.9")))
    content = certificate(before, after, status="beforeAdjustment afterAdjustment")
    assert [row["torque"] for row in rows(content)] == ["9.99 N·m", "49.9 N·m"]


def test_the_paper_serves_in_a_check_once_the_worked_row_is_there() -> None:
    error = quantity(ERROR, xml_list("0.30 0.10", PERCENT, expanded_mu_list("0.25 0.20")))
    content = one_table(quantity(SHOWN, xml_list("0.5 10")), error)
    paper = paper_of_dcc(content, field="dcc", name="paper.xml").table
    form = tomllib.loads(DRIVER)
    by_hand = form["kit"]["paper"]
    worked = {name: by_hand[name] for name in ("worked_shows", "worked_true")}
    assert paper["row"] == [{**row, "k": "2"} for row in by_hand["row"]]
    form["kit"]["paper"] = {**paper, **worked}
    judged, as_typed = judge_check(tomli_w.dumps(form).encode()), judge_check(DRIVER.encode())
    assert check_content(judged)["points"] == check_content(as_typed)["points"]
    assert judged.certificate == "TPB-0042"


@pytest.mark.parametrize("version", ["3.0.0", "3.2.1", "3.4.0-rc.2"])
def test_every_version_3_is_read(version: str) -> None:
    assert len(rows(GOOD.replace(b"3.3.0", version.encode()))) == 3


HELD = quantity(SHOWN, xml_list(TWO))
JOULES = quantity(SHOWN, xml_list(TWO, r"\joule"))


@pytest.mark.parametrize(
    ("content", "wanted", "given"),
    [
        (b"", "want-dcc-xml", "paper.xml"),
        (b"%PDF-1.7", "want-dcc-xml", "paper.xml"),
        (GOOD[:-30], "want-dcc-xml", "paper.xml"),
        (b"<html/>", "want-dcc", "paper.xml"),
        (GOOD.replace(b"3.3.0", b"2.4.0"), "want-dcc-version", "2.4.0"),
        (GOOD.replace(b"https://ptb.de/dcc", b"https://ptb.de/other"), "want-dcc", "paper.xml"),
        (one_table(HELD), "want-dcc-torque", "paper.xml"),
        (one_table(quantity("basic_temperature", xml_list(TWO))), "want-dcc-torque", "paper.xml"),
        (one_table(HELD, quantity(TRUE, xml_list("10"))), "want-dcc-torque", "paper.xml"),
        (one_table(HELD, quantity(TRUE, xml_list("0 0", "Nm"))), "want-dcc-unit", "Nm"),
        (one_table(HELD, quantity(ERROR, xml_list("0 0", r"\volt"))), "want-dcc-unit", r"\volt"),
        (one_table(JOULES, quantity(TRUE, xml_list(TWO))), "want-dcc-unit", r"\joule"),
        (one_table(HELD, quantity(TRUE, xml_list("10 NaN"))), "want-dcc-number", "NaN"),
        (one_table(HELD, quantity(TRUE, xml_list("10 1e999999"))), "want-dcc-number", "1e999999"),
        (one_table(HELD, quantity(TRUE, xml_list("10 1e99"))), "want-dcc-number", "1e99"),
        (one_table(HELD, quantity(TRUE, xml_list("10 0." + "1" * 50))), "want-dcc-number", "0." + "1" * 50),
        (one_table(HELD, quantity(ERROR, xml_list("0 0", "|lbf.ft"))), "want-dcc-same-unit", "|lbf.ft"),
        (one_table(HELD, quantity(TRUE, xml_list("10 " + "9" * 99))), "want-dcc-number", "9" * 59 + "…"),
        (one_table(HELD, quantity(TRUE, xml_list("10 20", f"{NEWTON_METRE} " * 3))), "want-dcc-even", None),
        (b"<a>" * 65 + b"</a>" * 65, "want-dcc-flat", "paper.xml"),
        (b"<a>" * 100_000, "want-dcc-flat", "paper.xml"),
        (b"<a/>" + b" " * 1_000_000, "want-smaller-file", "paper.xml"),
    ],
)  # fmt: skip
def test_it_is_refused_in_one_sentence(content: bytes, wanted: str, given: str | None) -> None:
    refused = refusal(content)
    assert refused.wanted == wanted
    assert given is None or refused.given == given
    assert refused.sentence.count("\n") == 0


@pytest.mark.parametrize(
    "doctype",
    [
        '<!DOCTYPE x [<!ENTITY xxe SYSTEM "file:///etc/hostname">]>',
        '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>',
        '<!DOCTYPE x SYSTEM "http://127.0.0.1:9/never.dtd">',
        "<!DOCTYPE x>",
    ],
)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_a_document_type_is_never_read(doctype: str, encoding: str) -> None:
    text = GOOD.decode().replace('<?xml version="1.0" encoding="UTF-8"?>', f'<?xml version="1.0"?>{doctype}')
    assert refusal(text.replace("TPB-0042", "&xxe;").encode(encoding)).wanted == "want-dcc-plain"


def test_an_entity_nobody_declared_is_no_xml() -> None:
    refused = refusal(GOOD.replace(b"TPB-0042", b"&xxe;"))
    assert (refused.wanted, "xxe" in refused.sentence) == ("want-dcc-xml", True)


def test_no_more_rows_than_fit() -> None:
    assert len(paper_of_dcc(GOOD, field="dcc", name="paper.xml", most=3).table["row"]) == 3
    assert refusal(GOOD, most=2).wanted == "want-dcc-rows"


def test_what_is_long_or_odd_in_it_is_cut_and_shown() -> None:
    content = GOOD.replace(b"North test bench", b"x" * 5000).replace(b"TPB-0042", "a\u0085b".encode())
    paper = paper_of_dcc(content, field="dcc", name="paper.xml").table
    assert len(paper["laboratory"]) == 200 and paper["certificate"] == "a b"


@pytest.mark.parametrize("name", NAMES)
def test_a_record_of_ours_is_no_certificate_of_a_transducer(name: str) -> None:
    assert refusal(dcc_of(export(name), workshop="")).wanted == "want-dcc-foreign"
