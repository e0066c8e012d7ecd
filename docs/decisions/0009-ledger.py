"""Evidence for 0009-ledger.md: read, add one, write, by four threads at once, counted in one SQLite file."""

import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import sqlalchemy as sa

from steelyard.store.engine import make_engine, writing

THREADS, EACH = 4, 100


def lost(engine: sa.Engine) -> tuple[int, int]:
    """How many of the additions are missing at the end, and how many were refused as locked."""
    with engine.begin() as connection:
        connection.exec_driver_sql("CREATE TABLE counter (n INTEGER)")
        connection.exec_driver_sql("INSERT INTO counter VALUES (0)")

    def add(_: int) -> int:
        refused = 0
        for _ in range(EACH):
            try:
                with engine.begin() as connection:
                    n = connection.exec_driver_sql("SELECT n FROM counter").scalar_one()
                    connection.exec_driver_sql("UPDATE counter SET n = ?", (n + 1,))
            except sa.exc.OperationalError:
                refused += 1
        return refused

    with ThreadPoolExecutor(THREADS) as pool:
        refused = sum(pool.map(add, range(THREADS)))
    with engine.connect() as connection:
        n = connection.exec_driver_sql("SELECT n FROM counter").scalar_one()
    engine.dispose()
    return THREADS * EACH - refused - n, refused


def main() -> None:
    """Both ways, the same work."""
    with tempfile.TemporaryDirectory() as folder:
        usual = sa.create_engine(f"sqlite:///{folder}/usual.sqlite3")
        path = Path(folder) / "ours.sqlite3"
        path.touch()
        for name, engine in (
            ("the driver's usual way", usual),
            ("BEGIN IMMEDIATE", writing(make_engine(path))),
        ):
            gone, refused = lost(engine)
            print(f"{name}: {gone} of {THREADS * EACH} additions lost, {refused} refused as locked")


if __name__ == "__main__":
    main()
