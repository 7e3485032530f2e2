"""Stands before the page: who may ask for what. A request that may not is answered here and goes no further.

- The name in the address has to be one that this desk gave itself: a page elsewhere cannot lend it a name of its own.
- The token has to stand in the address: only whoever was shown it has it.
- What changes something has to come from a page of this desk, and nothing may come from a page elsewhere.
- No more is taken in than a description may hold.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable

from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_TAKEN = 1_500_000  # bytes of a request: a description at its largest, as a form writes it
TOO_MUCH = "That is more than a description may hold."
SAFE = ("GET", "HEAD")
HEADERS = {
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
                               "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cache-control": "no-store",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}


def new_token() -> str:
    """A token that nobody guesses."""
    return secrets.token_urlsafe(24)


class Guard:
    """Lets a request through to the page, or answers it. `door`, where there is one, answers those without a token."""

    def __init__(self, page: ASGIApp, hosts: Iterable[str], tokens: set[str], door: ASGIApp | None = None):
        self.page, self.hosts, self.tokens, self.door = page, frozenset(hosts), tokens, door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] == "lifespan":
            await self.page(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        sending = _Sending(send)
        headers = {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in scope["headers"]}
        refused = self._refused(scope["method"], headers)
        token = scope["path"].split("/")[1] if "/" in scope["path"] else ""
        known = any(secrets.compare_digest(token.encode(), each.encode()) for each in self.tokens)
        target = self.page if known else self.door
        if refused is not None:
            status, said = refused
            await PlainTextResponse(said, status)(scope, receive, sending)
        elif target is None:
            await PlainTextResponse("Open the address that the program printed when it was started.", 403)(
                scope, receive, sending)
        else:
            if known:
                scope = {**scope, "root_path": f"/{token}"}
            await target(scope, _counted(receive), sending)

    def _refused(self, method: str, headers: dict[str, str]) -> tuple[int, str] | None:
        host, origin = headers.get("host", ""), headers.get("origin")
        if host not in self.hosts:
            return 421, "This desk does not go by that name."
        if origin is not None and origin != f"http://{host}":
            return 403, "A page elsewhere may not use this desk."
        if headers.get("sec-fetch-site", "none") not in ("none", "same-origin"):
            return 403, "A page elsewhere may not use this desk."
        if method not in SAFE and (method != "POST" or origin is None):
            return 403, "Only a page of this desk may change something."
        length = headers.get("content-length", "0")
        if not length.isdecimal() or len(length) > 12 or int(length) > MOST_TAKEN:
            return 413, TOO_MUCH
        return None


def _counted(receive: Receive) -> Receive:
    taken = 0

    async def counted() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > MOST_TAKEN:
            raise HTTPException(413, TOO_MUCH)
        return message

    return counted


class _Sending:
    """Sends an answer with the headers that every answer has."""

    def __init__(self, send: Send):
        self.send = send

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            given = {name for name, _ in message.get("headers", [])}
            more = [(name.encode(), value.encode()) for name, value in HEADERS.items() if name.encode() not in given]
            message = {**message, "headers": [*message.get("headers", []), *more]}
        await self.send(message)
