"""What each cable may carry by its installation method, and how much of each type there is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from sheetgen.catalogue.devices import DeviceType, device_type
from sheetgen.judge.figures import tables
from sheetgen.judge.figures.drops import Greatest
from sheetgen.model.reckoning import CableFigures, Total
from sheetgen.model.wiring import Cable, Size, Wiring

FLAT = ("twin", "twin and earth", "twin of one colour", "twin of one colour and earth", "three-core",
        "three-core and earth")

BEST = "C"  # the installation method in which a flat cable may carry most: clipped to a surface
FUSED = "BS 7671 Table 4D5"  # ratings that a BS 3036 fuse lowers

# 1/.044 in is 0.98 mm2, as good as 1.0 mm2 (arithmetic); its 5 A of 1955 were for rewireable fuses.
AS_METRIC = {"1/.044": Size("1.0", Fraction(1))}

Found = tuple[Fraction | None, str, tuple[str, ...]]


def rating_of(cable: Cable) -> Found:
    """Ampere, the table, and what is missing where there is none."""
    if cable.size is None:
        return None, "", (f"size of {cable.name}",)
    if cable.flex:
        return _looked_up(cable, cable.size, tables.FLEX_AMPS, "BS 7671 Table 4F3A")
    if cable.type in FLAT and not cable.size.imperial:
        if not cable.method:
            return None, "", (f"installation method of {cable.name}",)
        amps = tables.FLAT_AMPS.get(cable.method, {})
        return _looked_up(cable, cable.size, amps, f"BS 7671 Table 4D5, method {cable.method}")
    if cable.type in FLAT:
        if cable.size.text in AS_METRIC:
            return rating_of(replace(cable, size=AS_METRIC[cable.size.text]))
        return _looked_up(cable, cable.size, tables.IMPERIAL_AMPS, "IEE Wiring Regulations, 13th edition")
    return None, "", (f"rating of {cable.type} {cable.size.text}",)


def _looked_up(cable: Cable, size: Size, table: Mapping[str, Fraction], source: str) -> Found:
    amps = table.get(size.text)
    return (amps, source, ()) if amps is not None else (None, "", (f"rating of {cable.type} {size.text}",))


def cables_of(wiring: Wiring, greatest: Greatest, devices: Mapping[str, str]) -> tuple[CableFigures, ...]:
    """Every cable. `devices`: cable name -> type of the device that protects it."""
    found = []
    for cable in wiring.cables:
        fused = device_type(devices.get(cable.name, ""))
        rating, source, missing = _behind(fused, rating_of(cable))
        at_best = rating if cable.method else _behind(fused, rating_of(replace(cable, method=BEST)))[0]
        carried = max((greatest.amps.get(core.key, 0.0) for core in cable.cores), default=0.0)
        unbalanced = greatest.unbalanced[cable.name]
        found.append(CableFigures(cable.name, carried, rating, source, missing, unbalanced, at_best))
    return tuple(found)


def _behind(device: DeviceType | None, found: Found) -> Found:
    """What a device that lets more through before it opens leaves of a rating."""
    rating, source, missing = found
    if rating is None or device is None or device.derates is None or not source.startswith(FUSED):
        return found
    return (rating * device.derates, f"{source}, x {float(device.derates):g} behind a {device.name} fuse", missing)


def totals_of(wiring: Wiring) -> tuple[Total, ...]:
    """How much cable there is, by type and size, in the order in which they first occur."""
    kinds: dict[tuple[str, str], list[Cable]] = {}
    for cable in wiring.cables:
        kinds.setdefault((cable.type, cable.size.text if cable.size else ""), []).append(cable)
    return tuple(
        Total(name, size, len(cables), sum((c.length for c in cables if c.length is not None), Fraction(0)),
              tuple(f"length of {c.name}" for c in cables if c.length is None))
        for (name, size), cables in kinds.items()
    )
