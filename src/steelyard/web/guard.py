"""Who may speak to the server: this computer's own pages, and nobody else's."""

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from steelyard.web.told import at_the_door
from steelyard.words import say

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), microphone=(), geolocation=(), screen-wake-lock=(self)",
}
LARGEST_BODY = 64_000_000
"""Of any request; a photograph that is too large is refused in words beside its field. [bytes]"""
NOT_KEPT = {"Cache-Control": "no-store"}
READING = {"GET", "HEAD", "OPTIONS"}
KEPT_LONG = ("/static/",)


class Guard:
    """Refuses changes and live connections that another origin started, and bodies without end; adds the
    headers to all answers.

    The Origin header decides, since browsers always send it with a change; Sec-Fetch-Site is heeded where it
    is there. Source: OWASP Cross-Site Request Forgery Prevention Cheat Sheet (verifying origin, from memory).
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request or live connection."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        changes = scope["type"] == "websocket" or scope["method"] not in READING
        if changes and not is_same_origin(Headers(scope=scope)):
            refusal = at_the_door(scope["path"], 403, "OtherOrigin", say("other-origin"))
            refusal.headers.update({**HEADERS, **NOT_KEPT})
            await refusal(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
                if not scope["path"].startswith(KEPT_LONG):
                    headers.setdefault("Cache-Control", NOT_KEPT["Cache-Control"])
            await send(message)

        await self.app(scope, _counted(receive), with_headers)


def _counted(receive: Receive) -> Receive:
    """The same, refused where more comes than the largest body. Raises HTTPException."""
    came = 0

    async def counting() -> Message:
        nonlocal came
        message = await receive()
        came += len(message.get("body", b""))
        if came > LARGEST_BODY:
            raise HTTPException(413)
        return message

    return counting


def is_same_origin(headers: Headers) -> bool:
    """The request was started by one of our own pages; a program that sends neither header is refused too."""
    site, origin = headers.get("sec-fetch-site"), headers.get("origin")
    if site is not None and site not in ("same-origin", "none"):
        return False
    if origin is not None:
        return urlsplit(origin).netloc == headers.get("host")
    return site is not None
