"""Job to Dwelling: what the register keeps of a sheet; decides nothing that the sheet does not say."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from sheetgen.model.calendar import first_day, last_day
from sheetgen.model.job import Job
from sheetgen.model.reading import Finding
from sheetgen.model.wiring import Cable, Told, Way, Wiring
from sheetgen.model.words import NOT_GIVEN, plain, size_words
from sheetgen.pages.lookup import Lookup
from sheetgen.stock.dwelling import Dwelling, KeptAccessory, KeptCable, KeptCircuit, KeptFinding, KeptWay


def job_to_dwelling(job: Job) -> Dwelling:
    """Everything that is kept."""
    wiring, look = job.wiring, Lookup(job)
    names = look.circuit
    return Dwelling(
        job=wiring.job, place=wiring.place, status=wiring.status.value if wiring.status else "",
        drawn_by=wiring.drawn_by, drawn_on=wiring.drawn_on, drawn_day=_iso(first_day, wiring.drawn_on),
        board_where=wiring.board.where, earthing=wiring.board.earthing,
        report_number=wiring.report.number, report_date=wiring.report.date, report_due=wiring.report.next_due,
        due_day=_iso(last_day, wiring.report.next_due),
        mixed_colours=job.reading.mixed_colours, no_cpc=", ".join(job.reading.without_cpc),
        ways=tuple(map(_way, wiring.board.ways)),
        circuits=tuple(
            KeptCircuit(", ".join(map(names.part, c.lamps)), ", ".join(map(names.part, c.switches)),
                        ", ".join(map(names.way_number, c.ways)), c.method)
            for c in job.reading.circuits),
        findings=tuple(map(_finding, job.reading.findings)),
        cables=tuple(map(_cable, wiring.cables)),
        accessories=tuple(KeptAccessory(a.name, a.kind.name, a.room) for a in wiring.accessories if not a.kind.rails),
        notes=wiring.notes, in_use=_in_use(wiring),
    )


def _in_use(wiring: Wiring) -> int:
    used = {end.accessory for core in wiring.cores() for end in core.ends if end.terminal is not None}
    return sum(way.accessory in used for way in wiring.board.ways)


def _iso(read: Callable[[str], date], words: str) -> str:
    return read(words).isoformat() if words.strip() else ""


def _way(way: Way) -> KeptWay:
    rcd = {Told.NONE: "none", Told.UNKNOWN: "not known"}.get(way.rcd_told) or f"{plain(way.rcd or 0)} mA"
    device = {Told.NONE: "none", Told.UNKNOWN: NOT_GIVEN}.get(way.device_told) or str(way.device)
    return KeptWay(way.number, way.serves, device, rcd)


def _finding(found: Finding) -> KeptFinding:
    return KeptFinding(found.gravity.value, found.rule, found.says, found.setting, found.means, found.cure,
                       found.clause, found.accessory, found.terminal, found.core)


def _cable(cable: Cable) -> KeptCable:
    return KeptCable(cable.name, cable.type, size_words(cable.size) if cable.size else "", cable.colours, *cable.ends,
                     float(cable.length) if cable.length is not None else None, len(cable.cores))
