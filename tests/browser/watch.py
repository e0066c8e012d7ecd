"""What must never happen on a page, collected while a test uses it."""

import re
from dataclasses import dataclass, field

from playwright.sync_api import BrowserContext, ConsoleMessage, Page, Request, Response, WebError, WebSocket

AWAY = 0
"""Among the statuses that a test allows: there is no answer, since the server is away."""
NO_ANSWER = re.compile(r"net::ERR_(CONNECTION|EMPTY)_\w+")
LEFT_OUT = re.compile(r"^(\w+: )?Transition was (aborted|skipped)")
"""The browser left out the slide from one page to the next, being slow; no script of ours asks for it."""
REFUSED = re.compile(r"^Failed to load resource: the server responded with a status of (\d{3})")


@dataclass
class Watch:
    """Looks over all pages of a browser context.

    home: the one address that may be asked, without a slash at the end.
    allowed: statuses a test expects; the browser writes each 4xx into its console. May be added to.
    """

    home: str
    allowed: set[int]
    seen: list[str] = field(default_factory=list)

    def over(self, context: BrowserContext) -> None:
        """Begin."""
        context.on("weberror", self.script)
        context.on("console", self.console)
        context.on("request", self.request)
        context.on("response", self.response)
        context.on("page", self.page)

    def page(self, page: Page) -> None:
        page.on("websocket", self.socket)

    def script(self, trouble: WebError) -> None:
        if not LEFT_OUT.match(str(trouble.error)):
            self.seen.append(f"script: {trouble.error}")

    def console(self, message: ConsoleMessage) -> None:
        refused = REFUSED.match(message.text)
        status = int(refused[1]) if refused else AWAY if NO_ANSWER.search(message.text) else None
        if message.type == "error" and status not in self.allowed:
            self.seen.append(f"console: {message.text} ({message.location.get('url', '')})")

    def request(self, request: Request) -> None:
        if not request.url.startswith((f"{self.home}/", "data:", "blob:")):
            self.seen.append(f"leaves the machine: {request.url}")

    def socket(self, socket: WebSocket) -> None:
        if not socket.url.startswith(f"{self.home}/".replace("http", "ws", 1)):
            self.seen.append(f"leaves the machine: {socket.url}")

    def response(self, response: Response) -> None:
        if response.status >= 500 and response.status not in self.allowed:
            self.seen.append(f"{response.status}: {response.url}")
