"""Where the desk is shared on a network: a phone types the code that the program printed, and is let in."""

from __future__ import annotations

import secrets

from jinja2 import Environment
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from sheetgen.desk.forms import fields_of
from sheetgen.desk.guard import new_token

TRIES = 5  # wrong codes, from everybody together, after which nobody else is let in until the desk is started anew
DIGITS = 8


class Door:
    """Lets in whoever types the code."""

    def __init__(self, tokens: set[str], pages: Environment):
        self.code = f"{secrets.randbelow(10 ** DIGITS):0{DIGITS}d}"
        self.tokens, self.pages, self.left = tokens, pages, TRIES
        self.app = Starlette(routes=[
            Route("/", self.ask), Route("/code", self.try_code, methods=["POST"]),
            Mount("/static", StaticFiles(packages=[("sheetgen.desk", "static")])),
        ])

    async def ask(self, request: Request) -> Response:
        """The page that asks for the code."""
        return self._page("")

    async def try_code(self, request: Request) -> Response:
        """In with the right code; each wrong one counts."""
        fields = await fields_of(request)
        if self.left <= 0:
            return PlainTextResponse("Too many wrong codes. Start the desk anew on its own machine.", 403)
        typed = "".join(c for c in fields.get("code", "") if c in "0123456789")
        if not secrets.compare_digest(typed, self.code):
            self.left -= 1
            return self._page("That is not the code.")
        token = new_token()
        self.tokens.add(token)
        return RedirectResponse(f"/{token}/", 303)

    def _page(self, mistake: str) -> Response:
        return HTMLResponse(self.pages.get_template("door.html").render(mistake=mistake), 200 if not mistake else 403)
