"""After which turn of the adjuster, or the lock, each pull was read."""

from desk.bench_shop import HIGH_READINGS, bench_shop
from steelyard.desk import AS_FOUND, AS_LEFT, ReadWhen, judge_phase, lock_adjuster, read_when, turn_adjuster

TWO = tuple(" ".join(row.split()[:2]) for row in HIGH_READINGS)


def test_each_pull_is_known_by_the_turns_and_the_lock_before_it() -> None:
    shop = bench_shop()
    shop.stand()
    shop.pull(HIGH_READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    for _ in range(2):
        turn_adjuster(shop.acting, shop.check, {"turns": "1/4", "way": "in"})
        shop.pull(TWO, AS_LEFT)
    lock_adjuster(shop.acting, shop.check, {})
    shop.pull(TWO, AS_LEFT)
    point = {key: str(shop.body["setup"]["points"][1][key]) for key in ("target", "direction")}
    left = read_when(shop.body, AS_LEFT, **point)
    after = [ReadWhen(1, is_locked=False), ReadWhen(2, is_locked=False), ReadWhen(2, is_locked=True)]
    assert list(left) == [when for when in after for _ in range(2)]
    assert set(read_when(shop.body, AS_FOUND, **point)) == {ReadWhen(0, is_locked=False)}
