"""Descriptions of houses of any size, for benchmarks and for tests of growth."""

from __future__ import annotations


def house(rooms: int) -> str:
    """One circuit looped from rose to rose, a drop and a switch in each room: three accessories a room."""
    accessories, cables, last = [], [], "way 1"
    for i in range(1, rooms + 1):
        accessories += [f"  Rose {i}: {{kind: ceiling rose, room: Room {i}, lamp: 8 W}}",
                        f"  Switch {i}: {{kind: one-way switch, room: Room {i}}}"]
        line = "L" if last == "way 1" else "loop"
        cables += [
            f"  W{i}: {{type: twin and earth 1.0, from: {last}, to: Rose {i}, length: 4 m, "
            f"cores: {{BN: [{line}, loop], BU: [N, N], cpc: [E, E]}}}}",
            f"  D{i}: {{type: twin and earth 1.0, from: Rose {i}, to: Switch {i}, length: 3 m, "
            "cores: {BN: [loop, COM], BU: [SL, L1], cpc: [E, E]}, sleeved: [BU]}",
        ]
        last = f"Rose {i}"
    board = "board: {earthing: TN-S, ze: 0.3 ohm, ways: {1: {serves: Lights, device: type B 6 A, rcd: 30 mA}}}"
    return "\n".join([f"job: House of {rooms} rooms", board, "accessories:", *accessories, "cables:", *cables, ""])


def house_without(core: str, rooms: int, before: int) -> str:
    """The same with the line (BN) or the neutral (BU) of the loop off its terminal in the room before that of a number:
    whoever wired it forgot it, and all the rooms from there on are one circuit."""
    text = house(rooms)
    near = ("L" if core == "BN" else "N") if before == 1 else ("loop" if core == "BN" else "N")
    far = "loop" if core == "BN" else "N"
    cable = next(line for line in text.split("\n") if line.startswith(f"  W{before}:"))
    assert f"{core}: [{near}, {far}]" in cable
    return text.replace(cable, cable.replace(f"{core}: [{near}, {far}]", f"{core}: [nothing, {far}]"))


def row_of_sensors(count: int) -> str:
    """Sensors looped one from the other, each with a light."""
    accessories, cables, last = [], [], "way 1"
    for i in range(1, count + 1):
        accessories += [f"  Sensor {i}: {{kind: sensor}}", f"  Flood {i}: {{kind: batten lampholder, lamp: 8 W}}"]
        cables += [f"  {name}: {{type: twin and earth 1.0, from: {a}, to: {b}, cores: {{BN: [{line}], BU: [N, N], "
                   "cpc: [E, E]}}" for name, a, b, line in ((f"W{i}", last, f"Sensor {i}", "L, L"),
                                                            (f"D{i}", f"Sensor {i}", f"Flood {i}", "SL, L"))]
        last = f"Sensor {i}"
    return "\n".join(["job: Floods", "board: {ways: {1: {serves: Floods}}}", "colours: current", "accessories:",
                      *accessories, "cables:", *cables, ""])
