"""Workshops that stand ready for a job, made by the program's own desk behind a server that runs."""

from collections.abc import Iterator
from contextlib import contextmanager

from browser.running import Workshop
from desk.bench_shop import WRENCH, BenchShop
from steelyard.bootstrap import workshop as opened_workshop
from steelyard.desk import add_rig, add_tool, set_workshop

PLACE = {
    "name": "Tern Point Boatyard",
    "latitude": "54.3",
    "height": "12",
    "unit": "N·m",
    "decimal_mark": ".",
}


@contextmanager
def with_an_adapter(workshop: Workshop) -> Iterator[BenchShop]:
    """One wrench, one adapter, and the ledger open beside the server."""
    with opened_workshop(workshop.folder) as shop:
        acting = shop.acting()
        set_workshop(acting, PLACE)
        tool = add_tool(acting, WRENCH)
        stated = {"name": "R-1", "resolution": "0.1", "stated_of_reading": "0.5"}
        yield BenchShop(shop, tool, add_rig(acting, "transducer", stated))


@contextmanager
def with_weights(workshop: Workshop) -> Iterator[BenchShop]:
    """One wrench, an arm to hang weights from, and marked masses."""
    with opened_workshop(workshop.folder) as shop:
        acting = shop.acting()
        set_workshop(acting, PLACE)
        tool = add_tool(acting, WRENCH)
        for name, value in (("M-10", "10 kg ± 5 g"), ("B-2", "2 kg ± 2 g"), ("B-05", "500 g ± 1 g")):
            add_rig(acting, "mass", {"name": name, "value": value})
        arm = add_rig(acting, "hung-weight", {"name": "W-1", "always": "350 g ± 2 g"})
        yield BenchShop(shop, tool, arm)
