"""Fuses: rewireable to BS 3036, cartridge to BS 1361 and BS 88-3, and one of which nobody has seen the kind.

What opens them in 0.4 s: BS 7671 Table 41.2 (a secondary source; BS 88-3 from memory).
"""

from __future__ import annotations

from fractions import Fraction

from sheetgen.catalogue.devices.device_type import DeviceType

REWIREABLE = DeviceType(
    "BS 3036", (5, 15, 20, 30), (r"\bbs\s*3036\b", r"\brewire?able\b", r"\bsemi-enclosed\b"),
    "rewireable fuse: BS 3036 5 A", amps={5: 24, 15: 90}, zs_table="41.2",
    # It lets more through before it melts: 433.1.202 (clause from memory).
    derates=Fraction("0.725"), fuse=True)
CARTRIDGE = DeviceType(
    "BS 1361", (5, 15, 20, 30), (r"\bbs\s*1361\b", r"\bcartridge\b"), "cartridge fuse: BS 1361 5 A",
    amps={5: 22, 15: 70}, fuse=True)
CARTRIDGE_NOW = DeviceType(
    "BS 88-3", (5, 16, 20, 32), (r"\bbs\s*88-3\b",), "cartridge fuse: BS 88-3 5 A", amps={5: 22, 16: 95},
    zs_table="41.2", fuse=True)
NOT_SEEN = DeviceType(
    "fuse", (5, 6, 10, 15, 16, 20, 30, 32), (r"\bfuse\b",),
    "a fuse of which nobody has seen the kind; its limits are not known: 5 A fuse", fuse=True)
