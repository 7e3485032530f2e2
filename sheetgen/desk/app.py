"""The page: what each address answers. Nothing here opens a file; the folder it works in is handed to it."""

from __future__ import annotations

import contextlib
from collections.abc import AsyncIterator, Iterable
from dataclasses import dataclass, field
from urllib.parse import quote

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from sheetgen.desk.at_desk import AtDesk
from sheetgen.desk.desk import Desk, Folder
from sheetgen.desk.door import Door
from sheetgen.desk.forms import fields_of
from sheetgen.desk.guard import Guard
from sheetgen.desk.guiding import Guiding
from sheetgen.desk.latest import Latest
from sheetgen.desk.view import colour_word, key_of
from sheetgen.model.problems import Problem, Refused

MOST_DESKS = 40  # descriptions open at once
ENDINGS = (".yaml", ".yml")


def pages() -> Environment:
    """The templates; whatever a person wrote is escaped in them."""
    made = Environment(loader=PackageLoader("sheetgen.desk"), autoescape=True, undefined=StrictUndefined,
                       trim_blocks=True, lstrip_blocks=True)
    made.globals |= {"key_of": key_of, "colour_word": colour_word}
    return made


@dataclass
class Workplace:
    """The descriptions open at the desk; each has a worker of its own."""

    folder: Folder
    pages: Environment = field(default_factory=pages)
    desks: dict[str, Desk] = field(default_factory=dict)
    workers: dict[str, Latest] = field(default_factory=dict)
    spare: Latest = field(default_factory=Latest)

    def desk(self, name: str) -> Desk:
        """The description of that name. HTTPException where there may be none, Refused where it cannot be read."""
        if name not in self.desks:
            if not self.folder.may_be(name):
                raise HTTPException(404, "There is no such description in this folder.")
            if len(self.desks) >= MOST_DESKS:
                raise HTTPException(403, "Too many descriptions are open. Start the desk anew.")
            self.desks[name] = Desk(self.folder, name)
        return self.desks[name]

    def worker(self, name: str) -> Latest:
        """The worker of a description; the first takes the one that is warm already."""
        if name not in self.workers:
            self.workers[name] = self.spare if not self.workers else Latest()
        return self.workers[name]

    @contextlib.asynccontextmanager
    async def open(self, _app: Starlette) -> AsyncIterator[None]:
        """From the first worker's start to the last one's end."""
        self.spare.start()
        try:
            yield
        finally:
            for worker in {id(w): w for w in (*self.workers.values(), self.spare)}.values():
                worker.stop()

    async def start(self, request: Request) -> Response:
        """The descriptions in the folder, and a name for a new one."""
        return self._start(request, "")

    def _start(self, request: Request, mistake: str) -> Response:
        root = request.scope.get("root_path", "")
        page = self.pages.get_template("start.html")
        return HTMLResponse(page.render(
            root=root, mistake=mistake, files=[(name, f"{root}/at/{quote(name, safe='')}/")
                                               for name in self.folder.names()]))

    async def new(self, request: Request) -> Response:
        """A new description, opened; it is written when it is saved."""
        name = " ".join((await fields_of(request)).get("name", "").split())
        name = name if name.lower().endswith(ENDINGS) else f"{name}.yaml"
        if name == ".yaml" or not self.folder.may_be(name):
            return self._start(request, "That cannot be the name of a file here. Use letters, figures and spaces.")
        return RedirectResponse(f"{request.scope.get('root_path', '')}/at/{quote(name, safe='')}/", 303)

    async def not_read(self, request: Request, error: Exception) -> Response:
        """A file that is there and cannot be read."""
        assert isinstance(error, Refused)
        problems: tuple[Problem, ...] = error.problems
        return self._start(request, " ".join(f"{p.message} {p.hint}".strip() for p in problems[:5]))


def application(folder: Folder, hosts: Iterable[str], tokens: set[str], share: bool = False) -> tuple[ASGIApp, str]:
    """The whole page behind its guard, and the code that lets a phone in, "" where it is not shared."""
    place = Workplace(folder)
    at = AtDesk(place.desk, place.worker, place.pages)
    guiding = Guiding(place.desk, place.worker, place.pages)
    here = "/at/{name}"
    page = Starlette(
        lifespan=place.open,
        exception_handlers={Refused: place.not_read},
        routes=[
            Route("/", place.start),
            Route("/new", place.new, methods=["POST"]),
            Route(f"{here}/", at.page),
            Route(f"{here}/now", at.now),
            Route(f"{here}/change", at.change, methods=["POST"]),
            Route(f"{here}/step", at.step, methods=["POST"]),
            Route(f"{here}/drawing", at.drawing),
            Route(f"{here}/cured", at.cured),
            Route(f"{here}/pulse", at.pulse),
            Route(f"{here}/guide/{{kind}}", guiding.page),
            Route(f"{here}/sheet/{{kind}}", at.sheet),
            Mount("/static", StaticFiles(packages=[("sheetgen.desk", "static")])),
        ])
    door = Door(tokens, place.pages) if share else None
    return Guard(page, hosts, tokens, door.app if door else None), door.code if door else ""
