"""Pages of a large workshop against those of a small one, and against a bare handler.

Large: 10 000 tools, 1 000 000 pulls; small: a hundredth of it. Each page is asked of the whole application
in this process, by the same client. The bare handler is FastAPI with sqlite3 and nothing else: it runs the
very queries the page ran, decodes the documents among their rows, and fills the same template with the same
facts without having to work them out. What is drawn or reckoned for a page (its charts, the figures of a
point that is being read) is drawn and reckoned by both.
"""

import asyncio
import json
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from functools import partial
from typing import Any
from unittest.mock import patch

import sqlalchemy as sa
from bench_ratio import Bar
from bench_shop import OPEN_CHECK, Shop
from fastapi import FastAPI
from fastapi.responses import HTMLResponse
from jinja2 import Template
from starlette.types import Message

from steelyard.web import make_app, pulls, rack_words

OK = 200
SCOPE = {
    "type": "http",
    "asgi": {"version": "3.0"},
    "http_version": "1.1",
    "method": "GET",
    "scheme": "http",
    "root_path": "",
    "headers": [(b"host", b"127.0.0.1")],
}
TIMES = 5
PAGES = {
    "Today": "/",
    "the Rack": "/rack",
    "one tool": "/rack/00000005",
    "the Book": "/book",
    "the page of pulls": f"/bench/{OPEN_CHECK}/as-found?point=0",
}
ON_BOTH_SIDES = (
    (rack_words, "error_curve"),
    (rack_words, "history_strip"),
    (pulls, "running_point"),
    (pulls, "pull_dots"),
)
"""What draws or reckons for a page, and where it is called."""


def pages(small: Shop, large: Shop) -> list[Bar]:
    """Every page by size, then against the bare handler."""
    loop = asyncio.Runner()
    ask_small, ask_large = (asker(loop, make_app(shop.workshop)) for shop in (small, large))
    bars = []
    for name, path in PAGES.items():
        recorded = Recorded()
        with recorded.listening(large):
            ask_large(path)
        bare = asker(loop, bare_app(large, recorded))
        work = _of(ask_large, path)
        title = f"{name}, {large.tools} tools"
        bars += [
            Bar(f"{title} : {small.tools} tools", work, _of(ask_small, path), 1.5, TIMES, TIMES),
            Bar(f"{title} : bare handler", work, _of(bare, "/"), 2, TIMES, TIMES),
        ]
    return bars


def asker(loop: asyncio.Runner, app: FastAPI) -> Callable[[str], None]:
    """A client in this process; raises ValueError for an answer that is no page."""

    async def ask(address: str) -> None:
        path, _, query = address.partition("?")
        statuses: list[int] = []

        async def receive() -> Message:
            return {"type": "http.request", "body": b"", "more_body": False}

        async def send(message: Message) -> None:
            if message["type"] == "http.response.start":
                statuses.append(message["status"])

        await app({**SCOPE, "path": path, "query_string": query.encode()}, receive, send)
        if statuses != [OK]:
            raise ValueError(address)

    return lambda address: loop.run(ask(address))


def _of(ask: Callable[[str], None], path: str) -> Callable[[], None]:
    return lambda: ask(path)


@dataclass
class Recorded:
    """What one page asked of the ledger, what was drawn and reckoned for it, and what it was made of."""

    queries: list[tuple[str, Any]] = field(default_factory=list)
    deeds: list[Callable[[], object]] = field(default_factory=list)
    template: Template | None = None
    facts: dict[str, Any] = field(default_factory=dict)

    @contextmanager
    def listening(self, shop: Shop) -> Iterator[None]:
        """Keep what is asked and filled in meanwhile."""
        render = Template.render

        def filled(template: Template, **facts: Any) -> str:
            self.template, self.facts = template, facts
            return render(template, **facts)

        def asked(_connection: Any, _cursor: Any, statement: str, parameters: Any, *_more: Any) -> None:
            if statement.startswith("SELECT"):
                self.queries.append((statement, parameters))

        engine = shop.ledger.engine
        sa.event.listen(engine, "before_cursor_execute", asked)
        with ExitStack() as stack:
            stack.enter_context(patch.object(Template, "render", filled))
            for module, name in ON_BOTH_SIDES:
                stack.enter_context(patch.object(module, name, self._noted(getattr(module, name))))
            yield
        sa.event.remove(engine, "before_cursor_execute", asked)

    def _noted(self, deed: Callable[..., object]) -> Callable[..., object]:
        def noted(*facts: Any, **named: Any) -> object:
            self.deeds.append(partial(deed, *facts, **named))
            return deed(*facts, **named)

        return noted


def bare_app(shop: Shop, recorded: Recorded) -> FastAPI:
    """The same queries and the same template, and nothing else."""
    connection = sqlite3.connect(shop.ledger.path, check_same_thread=False)
    template = recorded.template
    app = FastAPI()

    @app.get("/")
    def handler() -> HTMLResponse:
        for statement, parameters in recorded.queries:
            for row in connection.execute(statement, parameters).fetchall():
                _decoded(row)
        for deed in recorded.deeds:
            deed()
        return HTMLResponse(template.render(**recorded.facts) if template is not None else "")

    return app


def _decoded(row: tuple[Any, ...]) -> None:
    for cell in row:
        if isinstance(cell, str) and cell.startswith("{"):
            json.loads(cell)
