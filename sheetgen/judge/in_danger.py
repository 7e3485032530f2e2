"""The accessories that bear the mark of a danger, on every drawing."""

from __future__ import annotations

from sheetgen.model.reading import Gravity, Reading
from sheetgen.model.wiring import Wiring


def in_danger(reading: Reading | None, wiring: Wiring) -> frozenset[str]:
    """Those that a danger names, or at which the core that it names ends; and what such a lampholder hangs from.

    The conductors of a pendant are terminated on its rose: that is what is opened.
    """
    ends = {core.key: tuple(end.accessory for end in core.ends) for core in wiring.cores()}
    found: set[str] = set()
    for finding in reading.findings if reading else ():
        if finding.gravity is Gravity.DANGER:
            found.update([finding.accessory] if finding.accessory else ends.get(finding.core, ()))
    found.update(a.hangs_from for a in wiring.accessories if a.name in found and a.hangs_from)
    return frozenset(found)
