"""Answers of the guided pages: find a fault, or which cable end belongs to which, one test at a time."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import quote, urlencode

from jinja2 import Environment
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from sheetgen.desk.desk import Desk
from sheetgen.desk.guide import GuideNow, standing_in
from sheetgen.desk.latest import Dropped, Latest
from sheetgen.desk.moment import Refusal
from sheetgen.model.words import CAUTION_SHORT
from sheetgen.pages.plan_of_tests import POSITIONS, RUN_AGAIN, STRAY

TITLES = {"fault": "Find a fault", "identify": "Which end belongs to which"}
HINTS = {
    "fault": "What is seen, one thing to a line: Landing dead; Hall L1, Top L2: Landing on; way 4 trips",
    "identify": "What is known, one thing to a line: Landing is worked by Hall and Top; Hall on: Landing off",
}
MOST_LINES = 30
CHANGED = "The description has been changed meanwhile. Begin again."


class Guiding:
    """Answers about the plans of a workplace's descriptions."""

    def __init__(self, desk_of: Callable[[str], Desk], worker_of: Callable[[str], Latest], pages: Environment):
        self.desk_of, self.worker_of, self.pages = desk_of, worker_of, pages

    async def page(self, request: Request) -> Response:
        """One step of a plan; before it begins, the question what is seen."""
        kind, query = request.path_params["kind"], request.query_params
        if kind not in TITLES:
            return Response("There is no such page.", 404)
        desk = self.desk_of(request.path_params["name"])
        here = f"{request.scope.get('root_path', '')}/at/{quote(desk.name, safe='')}"
        seen, way, begun = query.get("seen", ""), query.get("way", ""), query.get("begun") == "yes"
        now, mistake = (await self._now(desk, kind, seen, way)) if begun else (None, "")

        def to(steps: str) -> str:
            return f"{here}/guide/{kind}?{urlencode({'begun': 'yes', 'seen': seen, 'way': steps})}"

        ways = [step for step in way.split(".") if step]
        return HTMLResponse(self.pages.get_template("guide.html").render(
            root=request.scope.get("root_path", ""), here=here, kind=kind, title=TITLES[kind], hint=HINTS[kind],
            name=desk.name, seen=seen, now=now, mistake=mistake, caution=CAUTION_SHORT, positions=POSITIONS,
            stray=STRAY, again=RUN_AGAIN, back=to(".".join(ways[:-1])) if ways else "",
            onward=[to(".".join([*ways, str(i)])) for i in range(len(now.step.reads))] if now and now.step else []))

    async def _now(self, desk: Desk, kind: str, seen: str, way: str) -> tuple[GuideNow | None, str]:
        said = tuple(line.strip() for line in seen.splitlines() if line.strip())[:MOST_LINES]
        try:
            found = await self.worker_of(desk.name).found(desk.text, kind, said)
            if isinstance(found, Refusal):
                return None, " ".join(found.says)
            return standing_in(found, [int(step) for step in way.split(".") if step]), ""
        except (Dropped, ValueError):
            return None, CHANGED
