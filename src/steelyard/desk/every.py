"""All documents that are wanted, page by page: however many there are, one page of them is in memory."""

from collections.abc import Iterator
from dataclasses import replace

from steelyard.desk.ports import Find, Listed, Wanted


def every(find: Find, wanted: Wanted) -> Iterator[Listed]:
    """The documents that are wanted, in their order.

    wanted: `most` is how many are read in one go.
    """
    while True:
        found = find(wanted)
        yield from found
        if len(found) < wanted.most:
            return
        wanted = replace(wanted, after=found[-1].key)
