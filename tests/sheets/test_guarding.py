"""A text that looks like a formula goes out guarded, and comes back as it was."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from steelyard.sheets.guarding import guarded, unguarded

TRICKY = st.text(st.sampled_from("'=+-@\t\r\n 0,.5eNm\u00a0\ufeff\u200b\uff1d\x00"), max_size=8)
STARTS = tuple("=+-@\uff1d\uff0b\uff0d\uff20")


@given(st.one_of(st.text(), TRICKY))
@example("'")
@example("''=1")
@example("'-5")
@example("-5")
@example("' =1")
def test_what_was_guarded_comes_back(text: str) -> None:
    assert unguarded(guarded(text)) == text


@given(st.one_of(st.text(), TRICKY))
def test_nothing_that_goes_out_begins_a_formula(text: str) -> None:
    out = guarded(text)
    if out == text and not text.strip("+-0123456789.,eE"):
        return  # a plain number, or nothing
    assert not out.startswith(("\t", "\r", "\n"))
    assert not out.lstrip(" \t\r\n\u00a0\ufeff\u200b\x00").startswith(STARTS)


@given(st.one_of(st.text(), TRICKY), st.one_of(st.text(), TRICKY))
def test_no_two_texts_become_one(one: str, other: str) -> None:
    assert (guarded(one) == guarded(other)) == (one == other)


@pytest.mark.parametrize("text", ["-12.5", "+3", "-0,5", "1e-5", "-1.5E+3", "T-04", "", "'", "it's", "N·m"])
def test_numbers_and_plain_texts_go_out_as_they_are(text: str) -> None:
    assert guarded(text) == text


@pytest.mark.parametrize(
    "text", ["=1+1", "+1+1", "-1+1", "-10 °C", "@SUM(A1)", "\t=1", "\rx", "\nx", " =1", "\ufeff=1", "\uff1d1"]
)
def test_what_looks_like_a_formula_gets_one_apostrophe(text: str) -> None:
    assert guarded(text) == f"'{text}"
    assert guarded(f"'{text}") == f"''{text}"


def test_an_apostrophe_of_somebody_else_stays_where_it_guards_nothing() -> None:
    assert unguarded("'t is") == "'t is"
    assert unguarded("'-5") == "-5"
