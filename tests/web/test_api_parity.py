"""A program can do whatever a page can do: each deed of a page stands beside the operation that does it."""

from collections.abc import Iterator
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.routing import iter_route_contexts

from steelyard.web import make_app
from web.shop import make_workshop

READING = {"GET", "HEAD", "OPTIONS"}
RECORD = "/api/records/{record}"
DEEDS = {
    "/welcome": ("put /api/settings", "post /api/people"),
    "/who": ("header Steelyard-Person", "post /api/people"),
    "/settings": ("put /api/settings",),
    "/settings/logo": ("put /api/settings/logo",),
    "/settings/logo/drop": ("delete /api/settings/logo",),
    "/settings/device": ("header Steelyard-Device",),  # a program writes its own units and marks
    "/settings/key/sheet": ("post /api/key/sheet",),
    "/settings/key/copy": ("post /api/key/copy",),
    "/settings/key/back": ("post /api/key/back",),
    "/settings/key/new": ("post /api/key/new",),
    "/settings/key/drop": ("post /api/keys/drop",),
    "/verify": ("post /api/verify",),
    "/verify/key": ("post /api/keys",),
    "/settings/people/{key}/forget": ("delete /api/people/{key}",),
    "/rack/new": ("post /api/tools",),
    "/rack/{tool}/change": ("put /api/tools/{tool}",),
    "/rack/{tool}/event": ("post /api/tools/{tool}/event",),
    "/rack/{tool}/quarantine": ("post /api/tools/{tool}/quarantine",),
    "/rack/{tool}/release": ("post /api/tools/{tool}/release",),
    "/rack/{tool}/retire": ("post /api/tools/{tool}/retire",),
    "/rack/{tool}/return": ("post /api/tools/{tool}/return",),
    "/rack/{tool}/pivot": ("post /api/tools/{tool}/pivot",),
    "/rigs/weigh/{way}": ("post /api/rigs/weigh/{way}",),
    "/rigs/new/{sort}": ("post /api/rigs",),
    "/rigs/{rig}/change": ("put /api/rigs/{rig}",),
    "/rigs/new/transducer/paper": ("post /api/rigs/paper",),
    "/rigs/{rig}/change/paper": ("post /api/rigs/paper",),
    "/rigs/{rig}/sold": ("post /api/rigs/{rig}/sold",),
    "/bench/new": ("post /api/checks",),
    "/bench/{check}/photo": ("post /api/checks/{check}/photographs",),
    "/bench/{check}/{step}": tuple(
        f"post /api/checks/{{check}}/{deed}"
        for deed in (
            "look",
            "kit",
            "set-up",
            "exercise",
            "adjust",
            "turns/{turn}/way",
            "lock",
            "waive",
            "close",
        )
    ),
    "/bench/{check}/as-found": ("post /api/checks/{check}/{phase}/{point}",),
    "/bench/{check}/as-left": ("post /api/checks/{check}/{phase}/{point}",),
    "/bench/{check}/as-found/trials": ("post /api/checks/{check}/trials",),
    "/bench/{check}/as-left/trials": ("post /api/checks/{check}/trials",),
    "/bench/{check}/as-found/pour": ("post /api/checks/{check}/runs",),
    "/bench/{check}/as-left/pour": ("post /api/checks/{check}/runs",),
    "/bench/{check}/water": ("post /api/checks/{check}/water",),
    "/bench/{check}/pulls/{pull}/strike": ("post /api/checks/{check}/pulls/{pull}/strike",),
    "/bench/{check}/pulls/{pull}/take-back": ("post /api/checks/{check}/pulls/{pull}/take-back",),
    "/bench/{check}/verdict": ("post /api/checks/{check}/verdict",),
    "/book/file": ("post /api/records",),
    "/book/{record:int}/correction": (f"post {RECORD}/correction",),
    "/book/{record:int}/signature": (f"post {RECORD}/signature",),
    "/book/chain": ("post /api/chain/verify",),
    "/exchange/in": ("post /api/tables/{what}",),
    "/exchange/in/{key}": ("post /api/tables/{what}",),
    "/exchange/whole": ("post /api/workshop.zip",),
    "/reckon/{question}": ("post /api/reckon/{question}",),
}
"""By the address of a form: what a program sends instead."""
SIGHTS = {
    "/": "get /api/today",
    "/rack": "get /api/tools",
    "/rack/labels/print": "get /api/labels",
    "/rack/{tool}": "get /api/tools/{tool}",
    "/rack/{tool}/pivot": "get /api/tools/{tool}/pivot",
    "/rigs": "get /api/rigs",
    "/rigs/weigh": "get /api/rigs/weigh",
    "/rigs/weigh/{way}": "get /api/rigs/weigh/{way}",
    "/rigs/{rig}": "get /api/rigs/{rig}/ability",
    "/bench": "get /api/checks",
    "/bench/{check}": "get /api/checks/{check}",
    "/bench/{check}/{step}": "get /api/checks/{check}/offers",
    "/bench/{check}/as-found": "get /api/checks/{check}/{phase}/{point}",
    "/bench/{check}/as-left": "get /api/checks/{check}/{phase}/{point}",
    "/bench/{check}/as-found/trials": "get /api/checks/{check}/trials",
    "/bench/{check}/as-left/trials": "get /api/checks/{check}/trials",
    "/bench/{check}/as-found/pour": "get /api/checks/{check}/{phase}/{point}",
    "/bench/{check}/as-left/pour": "get /api/checks/{check}/{phase}/{point}",
    "/bench/{check}/verdict": "get /api/checks/{check}",
    "/book": "get /api/records",
    "/book/{record:int}": f"get {RECORD}",
    "/book/{record:int}/form.toml": f"get {RECORD}/form",
    "/book/{record:int}/content.json": f"get {RECORD}",
    "/book/{record:int}/record.pdf": f"get {RECORD}/paper",
    "/book/{record:int}/dcc.xml": f"get {RECORD}/dcc",
    "/book/chain": "get /api/chain/printed",
    "/files/{digest}": "get /api/files/{digest}",
    "/exchange/{what}.{form}": "get /api/tables/{what}",
    "/exchange/workshop.zip": "get /api/workshop.zip",
    "/reckon": "get /api/reckon",
    "/reckon/{question}": "get /api/reckon/{question}",
    "/settings": "get /api/settings",
    "/settings/key": "get /api/key",
    "/who": "get /api/people",
}
"""By the address of a page that shows what is kept: where a program reads it."""
FORMS_ALONE = {
    "/welcome",
    "/rack/labels",
    "/rack/labels/sheet",
    "/rack/new",
    "/rack/{tool}/change",
    "/rigs/new",
    "/rigs/new/{sort}",
    "/rigs/{rig}/change",
    "/bench/new",
    "/book/file",
    "/verify",
    "/exchange",
    "/exchange/whole",
    "/exchange/in",
    "/exchange/in/empty/{what}.{form}",
    "/exchange/in/{key}",  # what becomes of rows that are not kept yet, as the operation answers
    "/exchange/in/{key}/fates.csv",
    "/settings/people/{key}/forget",
    "/help",
    "/help/{path:path}",
}
"""Pages that ask or explain, and show nothing of the workshop that stands nowhere else."""


@pytest.fixture(scope="module")
def app() -> FastAPI:
    return make_app(make_workshop())


def routes(app: FastAPI) -> Iterator[tuple[str, str]]:
    """Method and address of every page and operation."""
    for route in iter_route_contexts(app.routes):
        for method in getattr(route, "methods", None) or ():
            yield method, str(route.path)


def pages(app: FastAPI, *, deeds: bool) -> set[str]:
    """Addresses of pages, those that change something or those that are read."""
    found = {path for method, path in routes(app) if (method not in READING) is deeds}
    return {path for path in found if not path.startswith("/api")}


def operations(app: FastAPI) -> set[str]:
    """All that a program can do, as described; headers by their names."""
    described: dict[str, dict[str, Any]] = app.openapi()["paths"]
    found = {f"{method} {path}" for path, methods in described.items() for method in methods}
    operation = described["/api/checks"]["post"]
    return found | {f"header {each['name']}" for each in operation["parameters"] if each["in"] == "header"}


def test_every_deed_of_a_page_is_there_for_a_program(app: FastAPI) -> None:
    assert pages(app, deeds=True) == set(DEEDS)
    assert {deed for deeds in DEEDS.values() for deed in deeds} - operations(app) == set()


def test_everything_a_page_shows_is_there_for_a_program(app: FastAPI) -> None:
    assert pages(app, deeds=False) == {*SIGHTS, *FORMS_ALONE}
    assert set(SIGHTS.values()) - operations(app) == set()


def test_a_program_can_do_nothing_that_no_page_does(app: FastAPI) -> None:
    mine = {each for each in operations(app) if not each.startswith(("get ", "header "))}
    assert mine - {deed for deeds in DEEDS.values() for deed in deeds} == set()
