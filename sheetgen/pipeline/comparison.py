"""The way through to a comparison: two circuits understood, their facts, the steps, and the proof by solving."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.circuit import circuit_of
from sheetgen.compare import (
    NoMatch,
    apply,
    asked_for,
    asked_set,
    facts_of,
    in_the_words_of,
    in_wanted_colour,
    kept_colours,
    proof_of,
    sleeve_steps,
    steps_between,
    with_its_own,
)
from sheetgen.draw.layout import DoesNotFit, drawing_space, wiring_to_layout
from sheetgen.draw.wiring import layout_to_drawing
from sheetgen.model.comparison import Change, ChangeStep, Comparison, Does
from sheetgen.model.drawing import Drawing
from sheetgen.model.geometry import MM
from sheetgen.model.job import Job
from sheetgen.model.reading import Role
from sheetgen.model.style import Style
from sheetgen.model.wiring import Core, Wiring
from sheetgen.pages.comparison import compose
from sheetgen.pipeline import Look, drawings_of, fingerprint, judged, reading_of, shown_in, style_of, wiring_of
from sheetgen.print.pdf import info_of, pages_to_pdf
from sheetgen.read.description_to_text import description_to_text
from sheetgen.solve.wiring_to_solution import wiring_to_solution

BETWEEN = 8 * MM  # kept free of each half of a sheet, for the gap between the two and the margins of the drawings


Wanted = bytes | str | Wiring  # a description, or what is made of the wiring that is there


def comparison_of(before: bytes | str, after: Wanted, look: Look, sources: tuple[str, str] = ("", ""),
                  renew: bool = False) -> Comparison:
    """Both sides, what differs, and what to change; `renew` keeps no cable of another colour set.

    Where the steps are proven, the second side is what they lead to: the wanted circuit in the names and with the
    cables of the first.
    """
    there, wanted = (shown_in(circuit_of(_wiring(side)), look.colours)[0].wiring for side in (before, after))
    change = change_between(there, wanted, renew)
    becomes = wanted
    if change and change.proven:
        becomes = with_its_own(change.result, there, wanted)
    style = style_of(look)
    jobs = (_job(there, style, before, sources[0]), _job(becomes, style, after, sources[1]))
    return Comparison(jobs[0], jobs[1], facts_of(*jobs), change, _beside(jobs, style))


def change_of(before: bytes | str, after: Wanted, renew: bool = False) -> Change | None:
    """What to change, without drawing anything; None where they are not of the same lights."""
    return change_between(wiring_of(before), _wiring(after), renew)


def _wiring(side: Wanted) -> Wiring:
    return side if isinstance(side, Wiring) else wiring_of(side)


def comparison_sheet(before: bytes | str, after: Wanted, look: Look, sources: tuple[str, str] = ("", ""),
                     renew: bool = False) -> tuple[bytes, bool]:
    """The whole comparison, as PDF; and whether its steps, if it has any, are proven."""
    comparison = comparison_of(before, after, look, sources, renew)
    there, wanted = info_of(comparison.before), info_of(comparison.after)
    sides = (("before", there), ("after", wanted))
    remark = "; ".join(f"{side}: {info.remark}" for side, info in sides if info.remark)
    info = replace(
        there, job=f"{there.job}: before and after", danger=there.danger or wanted.danger,
        remark=there.remark if there.remark == wanted.remark else remark,
        source=f"before: {there.source} {there.fingerprint}, after: {wanted.source}", fingerprint=wanted.fingerprint)
    proven = comparison.change is None or comparison.change.proven
    pages = compose(comparison)
    return pages_to_pdf(pages, style_of(look), info), proven


def change_between(before: Wiring, after: Wiring, renew: bool = False) -> Change | None:
    """The steps from one wiring to the other, and the proof; None where they are not of the same lights."""
    try:
        wanted = in_the_words_of(before, after)
    except NoMatch:
        return None
    roles = reading_of(wanted, wiring_to_solution(wanted)).roles
    sets = style_of().sets
    lines = {colours.line for colours in sets.values()}
    asked = asked_set(wanted, sets)

    def spoils(have: Core, want: Core) -> bool:
        return roles[want.key] is Role.NEUTRAL and have.colour in lines

    steps, result = steps_between(before, wanted, renew, spoils)
    needed = reading_of(result, wiring_to_solution(result)).sleeves_as_it_is
    sleeves = sleeve_steps(result, in_wanted_colour(needed, asked, sets) if asked else needed)
    for step in sleeves:
        result = apply(result, step)
    result = replace(result, board=before.board)
    solution = wiring_to_solution(result)
    reading = reading_of(result, solution)
    proven, proof = proof_of((result, solution, reading), (wanted, wiring_to_solution(wanted)))
    return Change(_in_order(steps, sleeves), result, proven, proof, tuple(f.says for f in reading.findings),
                  kept_colours(result, asked, sets, {cable.name for cable in before.cables}) if asked else "")


def _in_order(steps: tuple[ChangeStep, ...], sleeves: tuple[ChangeStep, ...]) -> tuple[ChangeStep, ...]:
    """Sleeves before the tidying up."""
    last = (Does.TIDY, Does.TAKE_OUT)
    return (*(s for s in steps if s.does not in last), *sleeves, *(s for s in steps if s.does in last))


def wanted_of(words: str, like: bytes | str) -> str | Wiring:
    """What is asked for in words of a circuit that is there: the short description of another method for its rooms, or,
    where only a colour set is named, the same wiring in those colours.

    `words` are a loop, a join, how it is wired and a colour set, with commas, in any order; what is not said is the
    usual. Refused where a word is not known, or where a method is asked for and there are several circuits.
    """
    circuit, reading = judged(like)
    wiring = circuit.wiring
    circuits = [c for c in reading.circuits if c.lamps and c.switches]
    asked = asked_for(words, wiring, circuits, style_of().sets)
    if isinstance(asked, str):
        return replace(shown_in(circuit, asked)[0].wiring, job=f"{wiring.job}, {words}", recoloured="")
    return description_to_text(asked)


def _job(wiring: Wiring, style: Style, text: Wanted, source: str) -> Job:
    solution = wiring_to_solution(wiring)
    reading = reading_of(wiring, solution)
    return Job(wiring, solution, reading, drawings=drawings_of(wiring, reading, style), sets=style.sets, source=source,
               fingerprint="" if isinstance(text, Wiring) else fingerprint(text))


def _beside(jobs: tuple[Job, ...], style: Style) -> tuple[Drawing, Drawing] | None:
    """Both drawings laid out for half the width of a sheet, where they fit there."""
    width, height = drawing_space(style)
    drawings = []
    for job in jobs:
        try:
            layout = wiring_to_layout(job.wiring, style, (width // 2 - BETWEEN, height))
        except DoesNotFit:
            return None
        drawings.append(layout_to_drawing(layout, job.wiring, job.reading, style))
    if any(len(sheets) > 1 for sheets in drawings):
        return None
    return drawings[0][0], drawings[1][0]
