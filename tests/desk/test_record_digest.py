"""Whether a record has its digest: asked quickly, decided by RFC 8785."""

import copy
from typing import Any

import pytest
import rfc8785
from hypothesis import example, given
from hypothesis import strategies as st

from steelyard.desk import record
from steelyard.desk.record import is_intact, record_digest

NUMBERS = [0.0, -0.0, 1.0, -25.0, 0.5, 1e-5, -1.5e-7, 1e16, 1.5e21, 1e22, 1e300, 123456789.0, 7]
TEXTS = [
    "20.0 N·m",
    "1.0,",
    ":1e-5,",
    ':"1e-7]',
    "[2.0]",
    "a\\b",
    "\n",
    "e+99999,",
    ":9e+99,",
    "\U0001f527",
    "",
]
ANY = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53) + 1, 2**53 - 1)
    | st.sampled_from(NUMBERS + TEXTS)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(exclude_categories=["Cs"])),
    lambda inside: (
        st.lists(inside, max_size=4) | st.dictionaries(st.text("abcé\U0001f527\uffee"), inside, max_size=4)
    ),
    max_leaves=20,
)


def sealed(setup: Any) -> dict[str, Any]:
    body: dict[str, Any] = {"id": "7", "setup": setup, "closed": {}}
    body["closed"]["digest"] = record_digest(body)
    return body


@given(ANY)
@example(NUMBERS)
@example(TEXTS)
def test_whatever_was_sealed_is_intact(setup: Any) -> None:
    assert is_intact(sealed(setup))


@given(ANY, ANY)
def test_another_content_is_not(setup: Any, other: Any) -> None:
    body = sealed(setup)
    changed = {**body, "setup": other}
    assert is_intact(changed) == (rfc8785.dumps(setup) == rfc8785.dumps(other))


@pytest.mark.parametrize(("was", "now"), [("5,", "5.0,"), ("a]", "a.0]"), (":1e-7,", ":1e-07,")])
def test_a_text_that_is_written_quickly_like_another_is_not_taken_for_it(was: str, now: str) -> None:
    body = sealed([was])
    assert is_intact(body)
    assert not is_intact({**body, "setup": [now]})


def test_a_check_in_hand_is_no_intact_record() -> None:
    assert not is_intact({"id": "7", "closed": None})


def test_numbers_alone_need_no_second_opinion(monkeypatch: pytest.MonkeyPatch) -> None:
    body = sealed({"numbers": [n for n in NUMBERS if n], "text": "20.0 N·m ± 0.5 %"})
    monkeypatch.setattr(record, "record_digest", lambda _: "none")
    assert is_intact(body)
    changed = copy.deepcopy(body)
    changed["setup"]["numbers"][0] = 2.0
    assert not is_intact(changed)
