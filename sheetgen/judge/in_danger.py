"""The accessories that bear the mark of a danger, on every drawing."""

from __future__ import annotations

from sheetgen.model.reading import Finding, Gravity, Reading, each
from sheetgen.model.wiring import Wiring


def in_danger(reading: Reading | None, wiring: Wiring) -> frozenset[str]:
    """Those that a danger names, or at which the core that it names ends; and what such a lampholder hangs from."""
    return frozenset(dangers_at(reading, wiring))


def dangers_at(reading: Reading | None, wiring: Wiring) -> dict[str, list[Finding]]:
    """Accessory -> the dangers that bear on it, those that are told with another too.

    The conductors of a pendant are terminated on its rose: that is what is opened.
    """
    ends = {core.key: tuple(end.accessory for end in core.ends) for core in wiring.cores()}
    hosts = {a.name: a.hangs_from for a in wiring.accessories if a.hangs_from}
    found: dict[str, list[Finding]] = {}
    for finding in each(reading.findings) if reading else ():
        if finding.gravity is Gravity.DANGER:
            places = (finding.accessory, *finding.elsewhere) if finding.accessory else ends.get(finding.core, ())
            for name in dict.fromkeys([*places, *(hosts[name] for name in places if name in hosts)]):
                found.setdefault(name, []).append(finding)
    return found
