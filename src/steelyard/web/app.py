"""The application: every page and answer, behind the guard."""

import logging
import secrets
from importlib import import_module
from importlib.metadata import version

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, PlainTextResponse, Response
from fastapi.staticfiles import StaticFiles
from fastapi.telemetry import TelemetryConfig
from starlette.exceptions import HTTPException
from starlette.middleware.trustedhost import TrustedHostMiddleware

from steelyard.bootstrap import Workshop
from steelyard.errors import InputRefused, SteelyardError, StoreTrouble, echo
from steelyard.web.asked import read_ask
from steelyard.web.guard import HEADERS, NOT_KEPT, Guard
from steelyard.web.pages import STATIC, page
from steelyard.web.told import is_for_a_program, told
from steelyard.words import say

HOSTS = ["127.0.0.1", "localhost", "[::1]"]
NO_TELEMETRY: TelemetryConfig = {
    "tracing": False,
    "metrics": False,
    "logs": False,
    "operation_spans": False,
    "auto_configure": False,
}
NOT_SO = {400: "request-not-readable", 404: "page-not-there", 413: "request-too-large"}
ROOMS = (
    "today",
    "labels",  # before the rack, whose tools stand at /rack/{tool}
    "rack",
    "pivot",
    "weighing",
    "rigs",
    "pulls",
    "trials",
    "pouring",
    "live",
    "bench",
    "book",
    "proving",
    "reckon",
    "exchange_in",  # before the tables that go out, at /exchange/{what}.{form}
    "whole_in",
    "exchange",
    "manual_pages",
    "settings",
    "keys",
    "api",
)


def make_app(workshop: Workshop) -> FastAPI:
    """The application for one open workshop; it answers to this computer's own names only."""
    app = FastAPI(
        title="Steelyard",
        description=import_module("steelyard.web.api").__doc__ or "",
        version=version("steelyard"),
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        telemetry=NO_TELEMETRY,
    )
    app.state.workshop = workshop
    app.state.is_ending = lambda: False  # whoever serves it knows better
    app.add_middleware(TrustedHostMiddleware, allowed_hosts=HOSTS, www_redirect=False)
    app.add_middleware(Guard)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    for room in ROOMS:
        app.include_router(import_module(f"steelyard.web.{room}").router, include_in_schema=room == "api")
    app.add_exception_handler(SteelyardError, _refused)
    app.add_exception_handler(HTTPException, _no_such_page)
    app.add_exception_handler(RequestValidationError, _not_understood)
    app.add_exception_handler(Exception, _our_fault)
    return app


def _refused(request: Request, trouble: Exception) -> Response:
    """The world refuses: one sentence, the status of the refusal, the way back."""
    if not isinstance(trouble, SteelyardError):
        raise trouble
    if is_for_a_program(request.url.path):
        field = trouble.field if isinstance(trouble, InputRefused) else None
        told_so = told(type(trouble).__name__, str(trouble), field=field, try_again=trouble.try_again)
        return JSONResponse(told_so, trouble.http_status)
    return _plain(request, trouble.http_status, str(trouble))


def _no_such_page(request: Request, trouble: Exception) -> Response:
    status, headers = 500, None
    if isinstance(trouble, HTTPException):
        status, headers = trouble.status_code, trouble.headers
    sentence = say(NOT_SO.get(status, "page-not-so"))
    if is_for_a_program(request.url.path):
        error = "NotFound" if status == 404 else "InputRefused"
        return JSONResponse(told(error, sentence), status, headers)
    answer = _plain(request, status, sentence)
    answer.headers.update(headers or {})
    return answer


def _not_understood(request: Request, trouble: Exception) -> Response:
    """A request that no page or program of ours sends."""
    detail = trouble.errors() if isinstance(trouble, RequestValidationError) else []
    where, sentence = None, say("request-not-readable")
    if detail and detail[0]["type"] != "json_invalid":
        _, *named = detail[0]["loc"]
        where = echo(".".join(str(part) for part in named))
        sentence = say("request-not-understood", where=where)
    if is_for_a_program(request.url.path):
        return JSONResponse(told("InputRefused", sentence, field=where), 422)
    return _plain(request, 422, sentence)


def _our_fault(request: Request, fault: Exception) -> Response:
    """Our own mistake: said so, with a number that stands in the server's log too."""
    number = secrets.token_hex(4)
    logging.getLogger("steelyard").error(say("our-fault-log", number=number), exc_info=fault)
    sentence = say("our-fault", number=number)
    if is_for_a_program(request.url.path):
        answer: Response = JSONResponse(told("OurFault", sentence), 500)
    else:
        answer = _plain(request, 500, sentence)
    answer.headers.update({**HEADERS, **NOT_KEPT})
    return answer


def _plain(request: Request, status: int, sentence: str) -> Response:
    """A page with the sentence; as bare text where not even the workshop's name can be read."""
    try:
        return page(
            read_ask(request),
            "trouble.html",
            say("trouble-title"),
            place="",
            status=status,
            sentence=sentence,
        )
    except StoreTrouble:
        return PlainTextResponse(sentence, status)
