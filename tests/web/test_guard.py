"""Who is answered, what every answer forbids, and that nothing leaves this computer."""

import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pytest
from fastapi import FastAPI
from fastapi.routing import iter_route_contexts
from starlette.testclient import TestClient, WebSocketDenialResponse

from steelyard.bootstrap import Workshop, fill_demo
from steelyard.web import app as application
from steelyard.web import make_app, serving
from steelyard.web.guard import HEADERS
from web.shop import HOME, Shop, make_workshop, shop
from web.test_every_page import walk

READING = {"GET", "HEAD", "OPTIONS"}
WIRE = HOME.replace("http", "ws", 1)
STRANGERS = (
    "evil.example",
    "127.0.0.1.evil.example",
    "localhost.evil.example",
    "evil.example:8734",
    "192.0.2.7",
    "[::2]",
    "",
)
OURS = ("127.0.0.1", "127.0.0.1:8734", "localhost", "localhost:8734", "[::1]", "[::1]:8734")
ADDRESSES = ("src", "href", "action", "formaction", "xlink:href", "data", "poster", "srcset")
INSIDE = re.compile(r"/(?!/)|#|\?|data:image/|$")
FORBIDS = {
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "connect-src 'self'",
    "form-action 'self'",
    "base-uri 'none'",
    "frame-ancestors 'none'",
}


class Broken(Workshop):
    """A workshop whose clock raises what nobody expects."""

    def acting(self, **_: object) -> object:  # type: ignore[override]
        """Our own mistake."""
        raise RuntimeError


@pytest.fixture(scope="module")
def demo() -> Iterator[Shop]:
    workshop = make_workshop(is_demo=True)
    fill_demo(workshop)
    with shop(workshop) as opened:
        yield opened


# ---------------------------------------------------------------- by which name


@pytest.mark.parametrize("path", ["/", "/api/today", "/static/steelyard.css", "/files/none", "/nowhere"])
@pytest.mark.parametrize("host", STRANGERS)
def test_another_name_than_this_computers_is_not_answered(demo: Shop, host: str, path: str) -> None:
    answer = demo.client.get(path, headers={"Host": host}, follow_redirects=False)
    assert (answer.status_code, answer.headers["x-content-type-options"]) == (400, "nosniff")


@pytest.mark.parametrize("host", STRANGERS)
def test_another_name_changes_nothing_even_with_an_origin_to_match(demo: Shop, host: str) -> None:
    before = demo.workshop.ledger.head()
    headers = {"Host": host, "Origin": f"http://{host}"}
    answer = demo.client.post("/api/people", json={"person": "stranger"}, headers=headers)
    assert answer.status_code in (400, 403)
    assert demo.workshop.ledger.head() == before


@pytest.mark.parametrize("host", OURS)
def test_this_computers_own_names_are_answered(demo: Shop, host: str) -> None:
    assert demo.client.get("/", headers={"Host": host}).status_code == 200


# ---------------------------------------------------------------- from which page


def changes(app: FastAPI) -> list[tuple[str, str]]:
    """Method and address of everything that may change something, with names that nothing has."""
    return [
        (method, re.sub(r"\{[^}]*\}", "1", str(route.path)))
        for route in iter_route_contexts(app.routes)
        for method in getattr(route, "methods", None) or ()
        if method not in READING
    ]


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "http://127.0.0.1.evil.example"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": "null"},
        {"Origin": ""},
        {"Origin": "http://evil.example", "Sec-Fetch-Site": "same-origin"},
        {"Origin": HOME, "Sec-Fetch-Site": "cross-site"},
        {"Origin": HOME, "Sec-Fetch-Site": "same-site"},
        {"Referer": f"{HOME}/"},
        {},
    ],
)
def test_no_change_is_made_for_another_origin(demo: Shop, headers: dict[str, str]) -> None:
    app = make_app(demo.workshop)
    before = demo.workshop.ledger.head()
    asked = changes(app)
    with TestClient(app, base_url=HOME) as stranger:
        answers = [stranger.request(method, path, headers=headers) for method, path in asked]
        answers.append(stranger.request("PATCH", "/", headers=headers))
    assert len(asked) > 50
    assert {answer.status_code for answer in answers} == {403}
    assert demo.workshop.ledger.head() == before


@pytest.mark.parametrize("headers", [{"Origin": HOME}, {"Sec-Fetch-Site": "same-origin"}])
def test_a_change_by_our_own_page_is_heard(headers: dict[str, str]) -> None:
    with TestClient(make_app(make_workshop()), base_url=HOME) as own:
        assert own.post("/api/people", json={"person": "rigger"}, headers=headers).status_code == 201


@pytest.mark.parametrize(
    "headers",
    [{}, {"Origin": "http://evil.example"}, {"Origin": HOME, "Host": "evil.example"}],
)
def test_no_live_connection_is_opened_for_another_origin(demo: Shop, headers: dict[str, str]) -> None:
    app = make_app(demo.workshop)
    live = [
        str(r.path) for r in iter_route_contexts(app.routes) if "websocket" in type(r.route).__name__.lower()
    ]
    assert live == ["/live/{check}"]
    with TestClient(app, base_url=HOME) as stranger:
        for path in live:
            with (
                pytest.raises(WebSocketDenialResponse),
                stranger.websocket_connect(WIRE + path.format(check="none"), headers=headers),
            ):
                pass


# ---------------------------------------------------------------- what every answer says

ASKED = [
    ("GET", "/", 200),
    ("GET", "/rack", 200),
    ("GET", "/book/1/content.json", 200),
    ("GET", "/api/today", 200),
    ("GET", "/api/openapi.json", 200),
    ("GET", "/static/steelyard.css", 200),
    ("GET", "/static/none.css", 404),
    ("GET", "/nowhere", 404),
    ("GET", "/rack/none", 404),
    ("GET", "/api/tools/none", 404),
    ("POST", "/rack/new", 422),
    ("POST", "/api/tools", 422),
    ("DELETE", "/rack", 405),
    ("DELETE", "/api/tools", 405),
    ("PUT", "/rack/new", 403),
]


@pytest.mark.parametrize(("method", "path", "status"), ASKED)
def test_every_answer_says_what_it_may_not_do(demo: Shop, method: str, path: str, status: int) -> None:
    headers = {"Origin": "http://evil.example"} if status == 403 else {}
    answer = demo.client.request(method, path, headers=headers)
    assert answer.status_code == status
    told = answer.headers
    policy = told["content-security-policy"]
    assert {part.strip() for part in policy.split(";")} >= FORBIDS
    assert "unsafe" not in policy and "*" not in policy and "http" not in policy
    assert told["x-content-type-options"] == "nosniff"
    assert told["referrer-policy"] == "same-origin"
    assert told["cross-origin-opener-policy"] == told["cross-origin-resource-policy"] == "same-origin"
    assert "geolocation=()" in told["permissions-policy"]
    assert "access-control-allow-origin" not in told
    if not path.startswith("/static/"):
        assert told["cache-control"] == "no-store"


def test_our_own_fault_says_the_same() -> None:
    whole = make_workshop()
    broken = Broken(whole.folder, whole.ledger, whole.clock, whole.dice, whole.darkroom)
    with TestClient(make_app(broken), base_url=HOME, raise_server_exceptions=False) as client:
        for path in ("/rack", "/api/tools"):
            answer = client.get(path)
            assert answer.status_code == 500
            assert answer.headers["content-security-policy"] == HEADERS["Content-Security-Policy"]
            assert answer.headers["x-content-type-options"] == "nosniff"
            assert answer.headers["cache-control"] == "no-store"


def test_a_kept_photograph_is_kept_by_the_browser_and_by_nobody_on_the_way(demo: Shop) -> None:
    from store.test_photograph import red_over_blue, saved

    digest = demo.workshop.ledger.keep_file(saved(red_over_blue()), "image/jpeg")
    assert demo.client.get(f"/files/{digest}").headers["cache-control"].startswith("private, ")
    assert demo.client.get(f"/api/files/{digest}").headers["cache-control"] == "no-store"


# ---------------------------------------------------------------- what stands on the pages


class Inline(HTMLParser):
    """Finds what a strict policy would refuse, and addresses elsewhere."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """A tag begins."""
        given = {name: value or "" for name, value in attrs}
        if (tag == "script" and "src" not in given) or tag in ("style", "base", "iframe", "object", "embed"):
            self.found.append(tag)
        for name, value in given.items():
            if name == "style" or name.startswith(("on", "hx-on")):
                self.found.append(f"{tag} {name}")
            if name in ADDRESSES and not INSIDE.match(value):
                self.found.append(f"{tag} {name}={value}")
            if "javascript:" in value.replace(" ", "").lower():
                self.found.append(f"{tag} {name}={value}")


def test_no_page_holds_a_script_a_style_or_an_address_elsewhere(demo: Shop) -> None:
    found: dict[str, list[str]] = {}
    for path, _, text in walk(demo):
        inline = Inline()
        inline.feed(text)
        found[path] = inline.found
    assert len(found) > 40
    assert {path: each for path, each in found.items() if each} == {}


# ---------------------------------------------------------------- nothing leaves


def test_telemetry_is_off_and_the_application_is_told_so(monkeypatch: pytest.MonkeyPatch) -> None:
    told: dict[str, object] = {}

    class Listening(FastAPI):
        def __init__(self, **settings: object) -> None:
            told.update(settings)
            super().__init__(**settings)  # type: ignore[arg-type]

    monkeypatch.setattr(application, "FastAPI", Listening)
    make_app(make_workshop())
    assert told["telemetry"] is application.NO_TELEMETRY
    assert set(application.NO_TELEMETRY) == {
        "tracing",
        "metrics",
        "logs",
        "operation_spans",
        "auto_configure",
    }
    assert not any(application.NO_TELEMETRY.values())


@pytest.mark.parametrize("path", ["/docs", "/redoc", "/openapi.json", "/docs/oauth2-redirect"])
def test_there_is_no_page_that_loads_from_elsewhere(demo: Shop, path: str) -> None:
    demo.page(path, 404)


def test_it_listens_to_this_computer_alone() -> None:
    port, listening = serving.free_port(0)
    with listening:
        assert listening.getsockname() == ("127.0.0.1", port)
