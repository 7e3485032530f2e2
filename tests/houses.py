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
