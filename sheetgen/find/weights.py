"""How often faults happen and what tests cost, as data. ASSUMED, all of it: orders of magnitude from memory, no survey.

They only order what is printed and which of two equally good tests comes first; they never take a fault away.
"""

from __future__ import annotations

from sheetgen.model.finding_out import Fault, Means

FAULT_WEIGHTS = {
    Fault.LAMP: 60,
    Fault.WAY_DEAD: 30,
    Fault.RCD_TRIPPED: 20,
    Fault.OPEN: 12,
    Fault.EXCHANGED: 6,
    Fault.HOLDER: 12,
    Fault.PARTED: 8,
    Fault.TURNED: 6,
    Fault.STUCK: 4,
    Fault.NEVER_MAKES: 6,
    Fault.TOUCHING: 3,
    Fault.NONE: 1,
}
EARTH_SHARE = 4  # a cpc is open as often as another core, but is looked for a quarter as often: it shows in no lamp

# In fifths of a dead continuity test at one place, as in the method's note.
LOOKING = 1
OPENING = 15  # an accessory, made dead, to look into it: beside what looking costs
WATCHING = 2  # 0.5 in the note, rounded down
AT_ONE_PLACE = 5
SWITCH_ELSEWHERE = 10
LONG_LEAD = 15
FURTHER_PLACE = 10  # where cores are joined for a test, beside the first
TAKING_OFF = 5  # the cores of one cable at one end, beside the reading
LIVE = 40
# Getting there, opening, setting up: what each test costs beyond that, so that a plan is short before it is cheap.
EACH_TEST = {Means.WATCH: 0, Means.LOOK: 0, Means.DEAD: 20, Means.LIVE: 20}
EACH_PAIRING_TEST = 120  # while ends are told apart every test is a walk through the dwelling, with joins to undo

CLOSED_BELOW = 5  # ohm: a contact and its cores read less, the coldest lamp and every winding more; from memory
