"""Cores that end in nothing."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.earth import earth_terminal
from sheetgen.judge.loose_cpcs import foreign_to, gravity_without_earth, loose_cpcs, place_of_earth, without_earth
from sheetgen.judge.remedies import foreign_neutrals
from sheetgen.judge.rules.borrowed_neutral import wanted_for_cure
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity, Role
from sheetgen.model.wiring import Core, CoreEnd
from sheetgen.model.words import capital, joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each core: live with the setting, else what it is joined to.

    Cores of which nobody knows the other end are one finding for each accessory where they are seen to end in nothing.
    """
    found: dict[str, list[Core]] = {}
    wanted = wanted_for_cure(case)
    can_be_put = frozenset(loose.core.key for loose in loose_cpcs(case))
    for core in case.wiring.cores():
        loose = [end for end in core.ends if end.nothing]
        if not all(case.accessories[end.accessory].opened for end in loose):
            continue  # nobody has looked whether it ends in nothing there
        if loose and any(end.unknown for end in core.ends):
            found.setdefault(loose[0].accessory, []).append(core)
        elif len(loose) == 1:
            yield _one_end(case, core, can_be_put)
        elif loose and not core.cpc:
            yield Finding(
                "loose_core", Gravity.NOTE,
                says=f"{case.core(core)} is connected at neither end, in "
                f"{case.places(end.accessory for end in core.ends)}.",
                means=f"It is {'free' if core.key in wanted else 'spare'}; lying beside live cores it can show tens of "
                "volts on a sensitive meter.",
                advice="The neutral that is borrowed can be put right with it; until then leave it in a terminal of "
                "its own at both ends, insulated." if core.key in wanted else
                "Leave it in a terminal of its own at both ends, insulated and marked as spare.",
                accessory=core.ends[0].accessory, core=core.key,
            )
    for place, cores in found.items():
        yield _other_end_not_known(case, place, cores)


def _other_end_not_known(case: Case, place: str, cores: list[Core]) -> Finding:
    one = len(cores) == 1
    which = case.core(cores[0]) if one else (
        f"{len(cores)} cores, of {joined(dict.fromkeys(core.cable for core in cores))},")
    return Finding(
        "loose_core", Gravity.PUT_RIGHT,
        says=f"{which} {'ends' if one else 'end'} in nothing in {case.wiring.printed(place)}, and "
        f"{'its other end is' if one else 'their other ends are'} not known.",
        means=f"Treat {'it' if one else 'each of them'} as live.",
        advice=f"Terminate {'it' if one else 'each of them'} in an insulated connector until its other end is found.",
        accessory=place, core=cores[0].key,
    )


def _one_end(case: Case, core: Core, can_be_put: frozenset[str]) -> Finding:
    loose = next(e for e in core.ends if e.nothing)
    fixed = next(e for e in core.ends if not e.nothing)
    live = next(((g, r) for g, r, c in case.settings(fixed.node) if c.live), None) if fixed.node else None
    if core.cpc and not live and case.roles[core.key] is Role.CPC:
        return _protective(case, core, loose, fixed, core.key in can_be_put)
    start = f"{case.core(core)} from {case.end(fixed)} ends in nothing in {case.wiring.printed(loose.accessory)}"
    return Finding(
        "loose_core",
        Gravity.DANGER if live else Gravity.NOTE if core.cpc else Gravity.PUT_RIGHT,
        says=f"{start} and can be live there." if live else f"{start}.",
        means=_means(case, core, bool(live)),
        advice=f"Terminate it in an insulated connector, or take it off at {case.end(fixed)}; then find what it should "
        "join." if live else _not_live(case, core, loose.accessory, case.end(fixed)),
        accessory=loose.accessory, core=core.key, setting=case.setting(*(live or (None, None))),
    )


def _protective(case: Case, core: Core, loose: CoreEnd, fixed: CoreEnd, can_be_put: bool) -> Finding:
    """A cpc that earths nothing as it lies: as grave as what is without earth, and taken off only where nothing is."""
    lacking = without_earth(case, core)
    means = "What is there is earthed without it."
    if lacking:
        means = f"No cpc brings earth to {joined(a.name for a in lacking)}."
    elif loose.accessory not in case.earthed | case.board:
        means = "Whatever it should serve there has no cpc, as far as is known."
    terminal = earth_terminal(case.accessories[loose.accessory])
    asked = bool(lacking) or (terminal is not None and case.may_be_joined(terminal))
    return Finding(
        "loose_core", gravity_without_earth(lacking),
        says=f"{case.core(core)} from {case.end(fixed)} ends in nothing in {case.wiring.printed(loose.accessory)}.",
        means=means, advice=_to_land(case, loose, fixed, can_be_put) if asked else _not_asked_for(case, core, loose),
        accessory=loose.accessory, core=core.key,
    )


def _to_land(case: Case, loose: CoreEnd, fixed: CoreEnd, can_be_put: bool) -> str:
    """Where it goes, and what is to be put right before."""
    if fixed.node and foreign_to(case, fixed.node, loose.accessory):
        return "It comes from another circuit than the lines there: bring a cpc with those, and take this one off."
    place = place_of_earth(case, loose.accessory)
    put = f"put it on {case.terminal(place)}." if place else "join it there to a cpc that is earthed."
    sure = can_be_put or not place
    return capital(put) if sure else f"Find out what else is joined to both ends and put that right; then {put}"


def _not_asked_for(case: Case, core: Core, loose: CoreEnd) -> str:
    """It may be taken off; not where others lie loose beside it that it would bring earth to."""
    others = [other for other in case.wiring.cores() if other is not core and other.cpc
              and any(end.nothing and end.accessory == loose.accessory for end in other.ends)
              and any(end.node for end in other.ends) and without_earth(case, other)]
    if others:
        return f"Join it there to {joined(map(case.core, others))}."
    return "Terminate it there, or take it off at the other end."


def _not_live(case: Case, core: Core, place: str, fixed: str) -> str:
    """Terminated it must not join the neutral of another way, which therefore comes off first."""
    others = [(case.core(other), other.ends[i].node, case.ways[other.key])
              for (key, _), other, i in foreign_neutrals(case, place) if key == core.key]
    if not others:
        return "Terminate it there, or take it off at the other end."
    named = joined(dict.fromkeys(f"{which} off {case.terminal(node)}" for which, node, _ in others if node))
    ways = {way for *_, found in others for way in found}
    return (f"First take {named}: it brings the neutral of {case.all_ways(ways)}, and the two must not be joined. Then "
            f"terminate this one in its place; or take it off at {fixed}.")


def _means(case: Case, core: Core, live: bool) -> str:
    if live:
        return "a bare live end lies loose in the box."
    role = case.roles[core.key]
    if role in (Role.UNUSED, Role.CUT_OFF):
        return "No supply reaches it."
    if role is Role.NOT_KNOWN:
        return "What it is joined to is not known: treat it as live."
    return f"Whatever it should serve there has no {role}."


RULE = Rule("loose_core", "core that ends in nothing", check)
