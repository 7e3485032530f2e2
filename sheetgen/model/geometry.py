"""Plane geometry in whole hundredths of a millimetre."""

from __future__ import annotations

MM = 100  # hundredths in a millimetre
PT = 35.277777  # hundredths of a millimetre in a point
