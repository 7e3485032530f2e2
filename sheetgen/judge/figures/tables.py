"""Published figures as data. Each says where it comes from and how well that is known.

"secondary" means read in a secondary source, not in the standard; "memory" means not confirmed; "derived" means worked
out from figures of the other kinds.
"""

from __future__ import annotations

from fractions import Fraction

F = Fraction

# Conductor resistance at 20 degC, milliohm per metre. IEC 60228:2004 classes 1 and 2 (secondary).
SOLID = {
    "0.5": F("36.0"), "0.75": F("24.5"), "1.0": F("18.1"), "1.5": F("12.1"), "2.5": F("7.41"), "4.0": F("4.61"),
}
# The same, class 5: flexible (secondary).
FLEXIBLE = {
    "0.5": F("39.0"), "0.75": F("26.0"), "1.0": F("19.5"), "1.5": F("13.3"), "2.5": F("7.98"), "4.0": F("4.95"),
}
# Old imperial sizes: pure copper, 17.241 milliohm mm2 per metre, by the area of the strands (derived from secondary).
IMPERIAL = {
    "1/.036": F("26.25"), "1/.044": F("17.58"), "3/.029": F("13.49"), "3/.036": F("8.75"), "7/.029": F("5.78"),
}

# From 20 to 70 degC: (230 + 70) / (230 + 20), On-Site Guide Table I3 (derived; the table from memory).
HOT = F("1.20")

# BS 7671 Table 4D5, flat cable with cpc, ampere by installation method. 1.0 and 1.5 and method C of 2.5: secondary;
# the rest of 2.5: memory. Flat three-core takes the same: at most two of its cores carry lamp current (derived).
FLAT_AMPS = {
    "100": {"1.0": F(13), "1.5": F(16), "2.5": F(21)},
    "101": {"1.0": F("10.5"), "1.5": F(13), "2.5": F(17)},
    "102": {"1.0": F(13), "1.5": F(16), "2.5": F(21)},
    "103": {"1.0": F(8), "1.5": F(10), "2.5": F("13.5")},
    "C": {"1.0": F(16), "1.5": F(20), "2.5": F(27)},
    "A": {"1.0": F("11.5"), "1.5": F("14.5"), "2.5": F(20)},
}
# BS 7671 Table 4D1A, single-core cables of 70 degC with or without sheath, two loaded, ampere by reference method: A in
# conduit in a thermally insulated wall, B in conduit on a wall or in trunking, C clipped direct (memory).
SINGLE_AMPS = {
    "A": {"1.0": F(11), "1.5": F("14.5"), "2.5": F(20)},
    "B": {"1.0": F("13.5"), "1.5": F("17.5"), "2.5": F(24)},
    "C": {"1.0": F("15.5"), "1.5": F(20), "2.5": F(27)},
}
# Volt drop, millivolt per ampere and metre of cable, at operating temperature: 1.0 and 1.5 secondary, 2.5 memory.
FLAT_DROP = {"1.0": F(44), "1.5": F(29), "2.5": F(18)}
# BS 7671 Tables 4F3A and 4F3B, flex of 60 degC: ampere (in part secondary, rest memory); mV/A/m (secondary).
FLEX_AMPS = {"0.5": F(3), "0.75": F(6), "1.0": F(10)}
FLEX_DROP = {"0.5": F(93), "0.75": F(62), "1.0": F(46), "1.5": F(32), "2.5": F(19), "4.0": F(12)}
# 13th edition of the IEE Regulations, 1955, ampere (secondary): for the rewireable fuses of the time (memory).
IMPERIAL_AMPS = {"1/.044": F(5), "3/.029": F(10), "3/.036": F(15), "7/.029": F(20)}

# Volt drop from the origin on a public supply, BS 7671 Table 4Ab (secondary): lighting 3 per cent, other uses 5.
LIGHTING_DROP = F(3, 100)
OTHER_DROP = F(5, 100)

CMIN = F("0.95")  # BS 7671:2008 Amendment 3 onwards (secondary)
NOMINAL = F(230)
COLD_SHARE = F("0.8")  # of the table for a measurement on cold conductors, BS 7671 appendix 3 (secondary)
# The rule of limits and rounding to two places gives the printed tables of BS 7671:2018 (tested).

# TT: 50 V over the rated residual current, Table 41.5 (secondary).
TOUCH_VOLTS = F(50)

# On-Site Guide Table A1 (secondary): not less than 100 W for each lampholder.
LAMPHOLDER_WATTS = F(100)
