"""The resistance of one core, cold for tests and at operating temperature for volt drop."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from sheetgen.judge.figures import tables
from sheetgen.model.wiring import Cable, Core, Size


def size_of(cable: Cable, core: Core) -> Size | None:
    """The size of one core: the cpc of a flat cable is smaller than its other cores."""
    return cable.cpc_size if core.cpc and cable.cpc_size else cable.size


def milliohm_per_metre(size: Size, flex: bool) -> Fraction | None:
    """At 20 degC; None where no table has the size."""
    if size.imperial:
        return tables.IMPERIAL.get(size.text)
    return (tables.FLEXIBLE if flex else tables.SOLID).get(size.text)


def drop_per_metre(size: Size, flex: bool) -> Fraction | None:
    """Millivolt per ampere and metre of this conductor alone, hot: half of the published figure of the cable."""
    published = (tables.FLEX_DROP if flex else tables.FLAT_DROP).get(size.text)
    if published is not None:
        return published / 2
    cold = milliohm_per_metre(size, flex)
    return None if cold is None else cold * tables.HOT


def ohms(cable: Cable, core: Core) -> Fraction | None:
    """Of the whole length at 20 degC; None where the length or the size is not given."""
    return _whole(cable, core, milliohm_per_metre)


def volts_per_ampere(cable: Cable, core: Core) -> Fraction | None:
    """Of the whole length at operating temperature; None where the length or the size is not given."""
    return _whole(cable, core, drop_per_metre)


def _whole(cable: Cable, core: Core, table: Callable[[Size, bool], Fraction | None]) -> Fraction | None:
    size = size_of(cable, core)
    if cable.link:
        return Fraction(0)  # a short piece inside one accessory
    if size is None or cable.length is None:
        return None
    milli = table(size, cable.flex)
    return None if milli is None else milli * cable.length / 1000


def what_is_missing(cable: Cable) -> str:
    """Why a core of it has no resistance."""
    if cable.size is None:
        return f"size of {cable.name}"
    return f"length of {cable.name}" if cable.length is None else f"resistance of {cable.name} ({cable.size.text})"
