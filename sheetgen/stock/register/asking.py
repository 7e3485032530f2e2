"""Questions that are often asked of a register; any other can be asked with any SQLite program."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Ask:
    """A question by its name: what it answers, and how. `:today` stands for the day of asking, an ISO date."""

    name: str
    says: str
    columns: tuple[str, ...]
    sql: str
    findings: str = ""  # the gravity of the findings that are asked for; their words are the third column


def _findings(gravity: str, says: str) -> Ask:
    sql = f"SELECT path, job, says, cure FROM finding_now WHERE gravity = '{gravity}' ORDER BY path, ordinal"
    return Ask(gravity, says, ("file", "dwelling", gravity, "cure"), sql, gravity)


DUE = ("file", "dwelling", "report", "next due")
ASKS: tuple[Ask, ...] = (
    _findings("danger", "every danger that was noticed"),
    _findings("put right", "everything that should be put right"),
    Ask("overdue", "whose next report was due before today", DUE,
        "SELECT path, job, report_number, report_due FROM now WHERE due_day != '' AND due_day < :today "
        "ORDER BY due_day, path"),
    Ask("no date", "for which it is not given when the next report is due", DUE[:3],
        "SELECT path, job, report_number FROM now WHERE understood AND due_day = '' ORDER BY path"),
    Ask("no cpc", "where no cpc comes to some accessory", ("file", "dwelling", "no cpc at"),
        "SELECT path, job, no_cpc FROM now WHERE no_cpc != '' ORDER BY path"),
    Ask("mixed colours", "with fixed wiring in colours of more than one set", ("file", "dwelling"),
        "SELECT path, job FROM now WHERE mixed_colours ORDER BY path"),
    Ask("no rcd", "where a circuit has no RCD, or none that is known", ("file", "dwelling", "way", "serves", "RCD"),
        "SELECT path, job, way.number, way.serves, way.rcd FROM now JOIN way ON way.state = now.id "
        "WHERE way.rcd IN ('none', 'not known') ORDER BY path, way.ordinal"),
    Ask("not understood", "whose description could not be understood", ("file", "line", "problem", "instead"),
        "SELECT path, line, code || ' ' || message, hint FROM now JOIN problem ON problem.state = now.id "
        "ORDER BY path, problem.ordinal"),
)


def find_ask(name: str) -> Ask | None:
    """The question of that name, or None."""
    return next((ask for ask in ASKS if ask.name == name.casefold().strip()), None)
