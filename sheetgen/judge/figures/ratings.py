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

BEST = "C"  # the installation method in which a cable may carry most: clipped to a surface
ENCLOSED = "B"  # that of singles in conduit or without a sheath at best, and of a link within an accessory: enclosed
FUSED = ("BS 7671 Table 4D5", "BS 7671 Table 4D1A")  # ratings that a BS 3036 fuse lowers

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
    if cable.single and not cable.size.imperial:
        return _single(cable, cable.size)
    return None, "", (f"rating of {cable.type} {cable.size.text}",)


def _single(cable: Cable, size: Size) -> Found:
    """A cpc carries nothing. A single without a sheath is rated in conduit or trunking alone."""
    if all(core.cpc for core in cable.cores) and cable.cores:
        return None, "", ()
    method = cable.method or (ENCLOSED if cable.link else "")
    if not method:
        return None, "", (f"installation method of {cable.name}",)
    amps = {} if cable.sheath == "unsheathed" and method == BEST else tables.SINGLE_AMPS.get(method, {})
    return _looked_up(cable, size, amps, f"BS 7671 Table 4D1A, method {method} (from memory)")


def _crowded(wiring: Wiring, ways: Mapping[str, tuple[str, ...]]) -> set[str]:
    """Conduits in which conductors of several ways lie: they heat one another, and the tables count one circuit."""
    reach: dict[str, set[str]] = {}
    for cable in wiring.cables:
        for core in cable.cores if cable.run_in else ():
            reach.setdefault(cable.run_in, set()).update(() if core.cpc else ways[core.key])
    return {name for name, found in reach.items() if len(found) > 1}


def _looked_up(cable: Cable, size: Size, table: Mapping[str, Fraction], source: str) -> Found:
    amps = table.get(size.text)
    return (amps, source, ()) if amps is not None else (None, "", (f"rating of {cable.type} {size.text}",))


def cables_of(wiring: Wiring, greatest: Greatest, devices: Mapping[str, str],
              ways: Mapping[str, tuple[str, ...]]) -> tuple[CableFigures, ...]:
    """Every cable. `devices`: cable -> type of the device that protects it; `ways`: Core.key -> those reaching it."""
    found = []
    crowded = _crowded(wiring, ways)
    for cable in wiring.cables:
        fused = device_type(devices.get(cable.name, ""))
        rating, source, missing = _behind(fused, rating_of(cable))
        best = ENCLOSED if cable.single and (cable.sheath == "unsheathed" or cable.run_in or cable.link) else BEST
        at_best = rating if cable.method else _behind(fused, rating_of(replace(cable, method=best)))[0]
        if rating is not None and cable.size and cable.run_in in crowded and not cable.link:
            rating, source, missing = None, "", (f"rating of {cable.type} {cable.size.text} beside other circuits",)
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
