"""The limit of a protective device, and the load on each way."""

from __future__ import annotations

from fractions import Fraction

from sheetgen.catalogue.devices import device_type
from sheetgen.circuit.circuit import Circuit
from sheetgen.circuit.feeds import without_line
from sheetgen.judge.figures import tables
from sheetgen.judge.figures.loads import Loads, WiredLoad
from sheetgen.model.reckoning import Limit, WayFigures
from sheetgen.model.solution import LampState
from sheetgen.model.wiring import Board, Device, Told, Way

Carried = dict[str, list[tuple[WiredLoad, Fraction]]]


def trip_amps(device: Device) -> Fraction | None:
    """The current that opens it within 0.4 s; None where no figure is at hand."""
    kind = device_type(device.type)
    return kind.trip_amps(device.rating) if kind else None


def limit_of(way: Way, board: Board) -> Limit | None:
    """The greatest Zs that the way's device, or on a TT supply its RCD, allows; None where it can't be said.

    On a TT supply without an RCD the device alone has to open, so its own limit holds.
    """
    if way.rcd and board.opens_by_rcd(way):
        whole = Fraction(round(tables.TOUCH_VOLTS * 1000 / way.rcd))
        return Limit(whole, whole, "BS 7671 Table 41.5")
    amps = trip_amps(way.device) if way.device else None
    if way.device is None or amps is None:
        return None
    table = Fraction(_half_up(tables.NOMINAL * tables.CMIN / amps * 100), 100)
    measured = Fraction(int(table * tables.COLD_SHARE * 100), 100)  # cut, not rounded
    named = _zs_table(way.device.type)
    rule = f"BS 7671 Table {named}" if named else "0.95 x 230 V / the current that opens it in 0.4 s"
    return Limit(table, measured, rule)


def _zs_table(name: str) -> str:
    kind = device_type(name)
    return kind.zs_table if kind else ""


def _half_up(value: Fraction) -> int:
    return int(value + Fraction(1, 2))


def ways_of(loads: Loads) -> tuple[WayFigures, ...]:
    """The load on every way of the board, and its limit."""
    board = loads.wiring.board
    carried = _carried(loads)
    circuit = Circuit(loads.wiring, loads.solution)
    lit = {load.name for mine in carried.values() for load, _ in mine}
    dark = [load for load in loads.loads.values() if load.what == "lamp" and load.name not in lit]
    found = []
    for way in board.ways:
        mine = carried.get(way.accessory, [])
        watts = sum((load.watts * share ** 2 for load, share in mine), Fraction(0))
        out = [load for load in dark if _belongs(circuit, load, way)]
        assumed = sum(map(_assumed, (*(load for load, _ in mine), *out)), Fraction(0))
        limit = limit_of(way, board)
        found.append(WayFigures(
            way.accessory, watts, watts / board.voltage, assumed / board.voltage, limit, _missing(way, limit),
            tuple(load.name for load in out), _sharing(board, carried, way)))
    return tuple(found)


def _sharing(board: Board, carried: Carried, way: Way) -> tuple[str, ...]:
    """The other ways that feed a load which this one feeds."""
    mine = {load.name for load, _ in carried.get(way.accessory, ())}
    return tuple(other.accessory for other in board.ways if other is not way
                 and mine & {load.name for load, _ in carried.get(other.accessory, ())})


def _belongs(circuit: Circuit, load: WiredLoad, way: Way) -> bool:
    """The way's line reaches it in some setting, or no line does and it returns to the way."""
    return circuit.line_from(way, *load.contacts) or without_line(circuit, load.name, way)


def _assumed(load: WiredLoad) -> Fraction:
    return max(load.watts, tables.LAMPHOLDER_WATTS) if load.what == "lamp" else load.watts


def _missing(way: Way, limit: Limit | None) -> tuple[str, ...]:
    if limit is not None or way.device_told is Told.NONE:
        return ()
    if way.device is None:
        return (f"device of {way.printed}",)
    kind = device_type(way.device.type)
    if kind and kind.times is None and not kind.amps:  # 'fuse', 'MCB': nobody has seen which
        return (f"type of the device of {way.printed}",)
    return (f"Zs limit of {way.device}",)


def _carried(loads: Loads) -> Carried:
    """Way -> the loads that its line feeds with everything on that can be, each with its share of the voltage.

    What the joined lines of several feed each of them carries, while the others are off.
    """
    carried: Carried = {}
    for i, row in loads.all_on.items():
        group = loads.solution.groups[i]
        for name, lamp in zip(group.lamps, row.lamps, strict=True):
            if lamp.state in (LampState.ON, LampState.DIM):
                contact = loads.line_first(group, row, loads.loads[name])[0]
                for way in loads.condition(group, row, contact).ways:
                    carried.setdefault(way, []).append((loads.loads[name], lamp.fraction))
    return carried
