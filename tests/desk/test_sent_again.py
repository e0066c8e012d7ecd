"""What is sent again is answered as the first time, whatever happened since."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from desk.bench_shop import HIGH_READINGS, READINGS, BenchShop, bench_shop
from steelyard.bootstrap import workshop as open_workshop
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Acting,
    attach_photograph,
    choose_kit,
    close_check,
    correct_record,
    exercise,
    judge_phase,
    look_over,
    open_check,
    quarantine,
    read_pull,
    release_tool,
    sell_rig,
    set_up,
    strike_out,
    take_back,
    turn_adjuster,
)
from steelyard.errors import InputRefused, RecordSealed

SETUP = {"axis": "vertical", "zeroed": "with-tool", "mode": "first-peak", "is_ready": "yes"}
TURN = {"turns": "1/4", "way": "out"}
Deed = Callable[[Acting], Any]


class Sender:
    """Does things under a token each, remembers the answers, and can do all of it again."""

    def __init__(self, shop: BenchShop) -> None:
        self.shop = shop
        self.sent: list[tuple[str, Deed, Any]] = []

    def do(self, deed: Deed) -> Any:
        """Do it for the first time; returns what it answers."""
        token = f"token-{len(self.sent)}"
        answer = deed(self.shop.workshop.acting(submission=token))
        self.sent.append((token, deed, answer))
        return answer

    def do_all_again(self) -> None:
        """Send everything again, in the order it was sent."""
        for token, deed, answer in self.sent:
            assert deed(self.shop.workshop.acting(submission=token)) == answer, token


def a_whole_check(sender: Sender) -> str:
    """A check that is found out, adjusted, closed and corrected; returns its name."""
    shop, do = sender.shop, sender.do
    check: str = do(lambda acting: open_check(acting, shop.tool, {"why": "due"}))
    do(lambda acting: look_over(acting, check, {"damaged": "no"}))
    do(lambda acting: attach_photograph(acting, check, b"picture", "image/jpeg", {}))
    do(lambda acting: choose_kit(acting, check, {"rig": shop.rig, "plan": "full"}))
    do(lambda acting: set_up(acting, check, SETUP))
    do(lambda acting: exercise(acting, check, {"exercise_pulls": "5"}))
    slip = do(lambda acting: read_pull(acting, check, AS_FOUND, 0, {"line": "18.1"})).number
    do(lambda acting: strike_out(acting, check, slip, {"reason": "slipped"}))
    do(lambda acting: take_back(acting, check, slip))
    do(lambda acting: strike_out(acting, check, slip, {"reason": "slipped after all"}))
    pull_all(sender, check, AS_FOUND, HIGH_READINGS)
    do(lambda acting: judge_phase(acting, check, AS_FOUND, {}))
    do(lambda acting: turn_adjuster(acting, check, TURN))
    pull_all(sender, check, AS_LEFT, READINGS)
    do(lambda acting: judge_phase(acting, check, AS_LEFT, {}))
    assert do(lambda acting: close_check(acting, check, {"next_due": "2026-12-25"})) == 1
    do(lambda acting: correct_record(acting, 1, {"wrong": "the title", "right": "none"}))
    do(lambda acting: quarantine(acting, shop.tool, {"reason": "lent nowhere"}))
    do(lambda acting: release_tool(acting, shop.tool, {"reason": "found good"}))
    return check


def pull_all(sender: Sender, check: str, phase: str, rows: tuple[str, ...]) -> None:
    """Read a row of pulls at each point, each under its own token."""
    for point, row in enumerate(rows):
        for line in row.split():
            sender.do(pull_of(check, phase, point, line))


def pull_of(check: str, phase: str, point: int, line: str) -> Deed:
    """One pull, ready to be sent."""
    return lambda acting: read_pull(acting, check, phase, point, {"line": line})


def test_a_whole_check_sent_again_after_its_seal_is_answered_as_before() -> None:
    send_twice(bench_shop())


def test_the_same_on_disk(tmp_path: Path) -> None:
    with open_workshop(tmp_path) as opened:
        send_twice(bench_shop(opened.ledger))


def send_twice(shop: BenchShop) -> None:
    """Everything, the kit sold since, and everything again."""
    sender = Sender(shop)
    a_whole_check(sender)
    sell_rig(shop.acting, shop.rig, {"note": "sold"}, None)
    head = shop.workshop.ledger.head()
    sender.do_all_again()
    assert shop.workshop.ledger.head() == head


def test_a_token_of_another_pull_is_refused_on_a_sealed_check_too() -> None:
    sender = Sender(bench_shop())
    check = a_whole_check(sender)
    token = next(token for token, _, answer in sender.sent if getattr(answer, "kind", "") == "pull-read")
    acting = sender.shop.workshop.acting(submission=token)
    with pytest.raises(InputRefused) as caught:
        read_pull(acting, check, AS_FOUND, 0, {"line": "18.2"})
    assert caught.value.field == "submission"


def test_a_token_of_an_earlier_check_is_refused_in_a_new_one() -> None:
    shop = bench_shop()
    sender = Sender(shop)
    a_whole_check(sender)
    shop.stand()
    token = next(token for token, _, answer in sender.sent if getattr(answer, "kind", "") == "pull-read")
    with pytest.raises(InputRefused) as caught:
        read_pull(shop.workshop.acting(submission=token), shop.check, AS_FOUND, 0, {"line": "18.1"})
    assert caught.value.field == "submission"


def test_a_new_token_does_not_open_a_sealed_check() -> None:
    sender = Sender(bench_shop())
    check = a_whole_check(sender)
    for acting in (sender.shop.acting, sender.shop.workshop.acting(submission="another")):
        with pytest.raises(RecordSealed):
            close_check(acting, check, {"next_due": ""})


def test_only_a_token_that_was_used_has_a_first_entry() -> None:
    shop = bench_shop()
    number = shop.workshop.ledger.head().number
    open_check(shop.workshop.acting(submission="used"), shop.tool, {"why": "due"})
    assert shop.workshop.ledger.first_of("used") == number + 1
    assert shop.workshop.ledger.first_of("never") is None
