"""What is answered about one description: the page, its changes, the drawing, the sheets."""

from __future__ import annotations

import asyncio
import hashlib
import json
from collections.abc import Callable, Mapping
from urllib.parse import quote

from jinja2 import Environment
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from sheetgen.desk.asked import Mistaken
from sheetgen.desk.changes import changed
from sheetgen.desk.desk import Desk, NotKept
from sheetgen.desk.forms import fields_of, stands_in, words_in
from sheetgen.desk.latest import Dropped, Latest
from sheetgen.desk.moment import Drawn, Judged
from sheetgen.desk.rendering import rendered
from sheetgen.desk.sheets import SHEETS, DeskSheet
from sheetgen.desk.splicing import NoPlace
from sheetgen.desk.view import Hand, view_of
from sheetgen.model.problems import Mark, Problem, Refused
from sheetgen.read.bounds import MOST_BYTES

TIMES = 50  # that an answer is asked for anew when a newer text has come in between
BEHIND = ("This description has been changed in another page since. Here is how it stands now; what you just did was "
          "not done.")
BUSY = Judged((Problem(Mark(), "E900", "This text cannot be worked out."),))


class AtDesk:
    """Answers about the descriptions of a workplace."""

    def __init__(self, desk_of: Callable[[str], Desk], worker_of: Callable[[str], Latest], pages: Environment):
        self.desk_of, self.worker_of, self.pages = desk_of, worker_of, pages

    def _desk(self, request: Request) -> Desk:
        return self.desk_of(request.path_params["name"])

    async def page(self, request: Request) -> Response:
        """The whole page."""
        return await self._shown(request, self._desk(request), {}, whole=True)

    async def now(self, request: Request) -> Response:
        """The description as it stands, with something else in hand or a switch operated; 204 to a page that only fears
        that it is behind and is not."""
        desk, query = self._desk(request), dict(request.query_params)
        if query.get("behind") and not _is_behind(desk, query):
            return Response(status_code=204)
        return await self._shown(request, desk, query)

    async def change(self, request: Request) -> Response:
        """A change by choosing, or of the text."""
        desk, fields = self._desk(request), await fields_of(request)
        if fields.get("version") != str(desk.version):
            return await self._shown(request, desk, fields, mistake=BEHIND)
        said = mistake = ""
        before = desk.text
        try:
            if fields.get("do") == "text":
                desk.change(_typed(fields.get("value", "")))
            else:
                text, said = await asyncio.to_thread(changed, desk.text, _with_landing(fields))
                if desk.text != before:
                    return await self._shown(request, desk, fields, mistake=BEHIND)
                desk.change(text)
        except (Mistaken, NoPlace, NotKept) as wrong:
            mistake = str(wrong)
        except Refused as refused:
            mistake = " ".join(f"{p.message} {p.hint}".strip() for p in refused.problems[:3])
        return await self._shown(request, desk, fields, said, mistake, added=not mistake and before != desk.text)

    async def step(self, request: Request) -> Response:
        """Undo, redo, save; or what to do with a file that another program has changed."""
        desk, fields = self._desk(request), await fields_of(request)
        does: dict[str, Callable[[], object]] = {
            "undo": lambda: desk.move(-1), "redo": lambda: desk.move(1), "save": desk.save,
            "theirs": desk.take_theirs, "mine": desk.keep_mine,
        }
        step, said, mistake = fields.get("step", ""), "", ""
        if step not in does or fields.get("version") != str(desk.version):
            return await self._shown(request, desk, fields, mistake=BEHIND)
        try:
            await asyncio.to_thread(does[step])
            said = {"undo": "One step back.", "redo": "One step forth.", "theirs": f"{desk.name} is read anew."}.get(
                step, f"{desk.name} is saved." if desk.is_saved and not desk.elsewhere else "")
        except NotKept as wrong:
            mistake = str(wrong)
        except Refused as refused:
            mistake = " ".join(f"{p.message} {p.hint}".strip() for p in refused.problems[:3])
        return await self._shown(request, desk, fields, said, mistake)

    async def _shown(self, request: Request, desk: Desk, fields: Mapping[str, str], said: str = "", mistake: str = "",
                     whole: bool = False, added: bool = False) -> Response:
        stands = stands_in(fields.get("stands", "{}"))
        operated = fields.get("operate", "") or fields.get("operated", "")
        desk.look()
        judged = await self._judged(request, desk, stands, operated)
        if fields.get("operate"):
            stands = _operated(judged, fields["operate"])
            judged = await self._judged(request, desk, stands, operated)
        stands = {switch.name: switch.stands for switch in judged.switches} or stands
        if judged.whole and not whole:
            self.worker_of(desk.name).begin_drawing(desk.text, stands)
        given = words_in(fields.get("hand", "[]"))
        chosen = tuple(words_in(fields.get("chosen", "[]")))
        hand = Hand(given[0], given[1], chosen) if len(given) == 2 else Hand()
        page = rendered(self.pages, desk, judged, hand, {
            "root": request.scope.get("root_path", ""), "stands": json.dumps(stands), "operated": operated,
            "said": said, "mistake": mistake, "form": dict(fields) if mistake else {},
            "drawing_key": key_of_drawing(desk.text, stands), "does": fields.get("do", ""),
            "called": fields.get("value", ""),
            "sheets": [(kind, sheet.title) for kind, sheet in SHEETS.items()],
        }, added, whole)
        headers = {"HX-Trigger-After-Swap": json.dumps({"desk-changed": ""} | (
            {"desk-added": {"does": fields.get("do", "")}} if added else {}))}
        return HTMLResponse(page, headers=headers)

    async def _judged(self, request: Request, desk: Desk, stands: Mapping[str, str], operated: str) -> Judged:
        for _ in range(TIMES):
            try:
                return await self.worker_of(desk.name).judged(desk.text, stands, operated)
            except Dropped:
                continue
        return BUSY

    async def drawing(self, request: Request) -> Response:
        """The drawing, or 204 where the page has it already or there is none to replace it with."""
        desk, query = self._desk(request), request.query_params
        stands = stands_in(query.get("stands", "{}"))
        drawn = Drawn()
        for _ in range(TIMES):
            if query.get("have") == key_of_drawing(desk.text, stands):
                return Response(status_code=204)
            try:
                drawn = await self.worker_of(desk.name).drawn(desk.text, stands)
                break
            except Dropped:
                if await request.is_disconnected():
                    return Response(status_code=204)
        if not drawn.sheets and not drawn.refused:
            return Response(status_code=204)
        template = self.pages.get_template("drawing.html")
        return HTMLResponse(template.render(drawn=drawn, key=key_of_drawing(desk.text, stands)))

    async def cured(self, request: Request) -> Response:
        """The findings with what mends them; 204 where nothing was found, or the text is another by now."""
        desk = self._desk(request)
        try:
            found = (await self.worker_of(desk.name).cured(desk.text)).findings
        except Dropped:
            found = ()
        if not found:
            return Response(status_code=204)
        view = view_of(desk.text, Judged(()))
        return HTMLResponse(self.pages.get_template("findings.html").render(findings=found, looking=False, view=view))

    async def pulse(self, request: Request) -> Response:
        """Whether the page is behind: another page has changed the description, or another program the file."""
        behind = _is_behind(self._desk(request), request.query_params)
        return Response(status_code=204, headers={"HX-Trigger": "desk-behind"} if behind else {})

    async def sheet(self, request: Request) -> Response:
        """A sheet to print or keep, made of the description as it stands."""
        desk, kind = self._desk(request), request.path_params["kind"]
        sheet: DeskSheet | None = SHEETS.get(kind)
        if sheet is None:
            return Response("There is no such sheet.", 404)
        try:
            data = await asyncio.to_thread(sheet.make, desk.text, desk.name)
        except Refused as refused:
            said = "\n".join(p.text(desk.name) for p in refused.problems)
            return Response(f"There is no sheet until this is mended:\n\n{said}\n", 422, media_type="text/plain")
        name = quote(f"{desk.name.rsplit('.', 1)[0]}{sheet.ending}")
        return Response(data, media_type=sheet.media, headers={
            "content-disposition": f"{sheet.shown}; filename*=UTF-8''{name}", **sheet.headers})


def key_of_drawing(text: str, stands: Mapping[str, str]) -> str:
    """What tells one drawing from another."""
    return hashlib.sha256(json.dumps([text, dict(stands)], sort_keys=True).encode()).hexdigest()[:16]


def _is_behind(desk: Desk, query: Mapping[str, str]) -> bool:
    return query.get("version") != str(desk.version) or desk.look() != (query.get("elsewhere") == "yes")


def _typed(text: str) -> str:
    """A text as a browser sends it, with the line ends of a file."""
    plain = text.replace("\r\n", "\n")
    if len(plain.encode("utf-8", "replace")) > MOST_BYTES:
        raise Mistaken("The text is too long for a description of one house.")
    return plain


def _with_landing(fields: Mapping[str, str]) -> dict[str, str]:
    """The fields of a landing from the core that is chosen and the terminal that was pressed."""
    if fields.get("do") != "land" or "pressed" not in fields:
        return dict(fields)
    chosen, pressed = words_in(fields.get("chosen", "")), words_in(fields["pressed"])
    if len(chosen) != 3 or len(pressed) != 2:
        raise Mistaken("Choose a core first, then the terminal that it is on.")
    cable, core, end = chosen
    return {**fields, "name": cable, "core": core, "end": pressed[0] or end, "terminal": pressed[1]}


def _operated(judged: Judged, name: str) -> dict[str, str]:
    """How the switches stand after one was operated: in its next position."""
    stands = {switch.name: switch.stands for switch in judged.switches}
    for switch in judged.switches:
        if switch.name == name:
            at = switch.positions.index(switch.stands) + 1
            stands[name] = switch.positions[at % len(switch.positions)]
    return stands
