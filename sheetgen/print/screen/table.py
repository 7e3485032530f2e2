"""The table in the page: every switch, lamp, terminal and core, and what each does in every setting. Plain values."""

from __future__ import annotations

import string
from collections.abc import Mapping
from fractions import Fraction

from sheetgen.circuit.names import Names
from sheetgen.judge.sleeves import taken_as_fitted, to_be_fitted
from sheetgen.model.reading import Sleeve, Standing
from sheetgen.model.screen import Screen, View
from sheetgen.model.solution import Condition, Group, Lamp, Potential, Row, Solution, reached_by
from sheetgen.model.wiring import Core, Wiring
from sheetgen.model.words import cable_words, capital, condition, joined, plain, recoloured_words

LETTERS = string.ascii_letters + string.digits
BEYOND = 0x100  # where the letters go on when those are used up
SLEEVES = {
    Standing.FITTED: "{colour} sleeve fitted", Standing.MISSING: "{colour} sleeve missing: fit one",
    Standing.NEEDLESS: "{colour} sleeve fitted, none needed", Standing.WRONG: "{has} sleeve fitted, should be {colour}",
}


def table_of(screen: Screen, solution: Solution) -> dict[str, object]:
    """All that the page looks up."""
    return _ScreenTable(screen, solution).value()


class _ScreenTable:
    def __init__(self, screen: Screen, solution: Solution):
        self.screen, self.solution = screen, solution
        self.wiring: Wiring = screen.views[0].wiring
        self.names = Names(self.wiring)
        self.nodes = list(self.wiring.nodes())
        self.node_number = {node: i for i, node in enumerate(self.nodes)}
        self.cores = list(self.wiring.cores())
        self.core_number = {core.key: i for i, core in enumerate(self.cores)}
        self.told: list[tuple[tuple[str, ...], tuple[str, ...]]] = []  # group and setting of each row, as numbered
        self.letters: dict[Condition, str] = {}
        rows = [row for group in solution.groups for row in group.rows]
        self.shorted = reached_by((short.rails[0].accessory for row in rows for short in row.shorts),
                                  (link for row in rows for link in row.links))

    def value(self) -> dict[str, object]:
        """The whole table."""
        constant = [[self.node_number[t], self._letter(c)] for t, c in self.solution.constant.items()]
        groups = [self._group(group) for group in self.solution.groups]
        return {
            "switches": {
                name: {"label": self.names.part(name), "at": a.name,
                       "positions": {p.name: self.names.position(name, p.name) for p in s.positions}}
                for name, (a, s) in self.names.switches.items()
            },
            "loads": {
                name: {"label": self.names.part(name), "at": a.name} for name, (a, _) in self.names.loads.items()
            },
            "accessories": {
                a.name: {"room": a.room, "kind": a.kind.name, "note": a.note} for a in self.wiring.accessories
            },
            "terminals": [[str(node), self.names.label(node), self.wiring.printed(node.accessory), node.accessory]
                          for node in self.nodes],
            "cores": [self._core(core) for core in self.cores],
            "views": {
                view.name: [self._core_in(view, core) for core in view.wiring.cores()] for view in self.screen.views
            },
            "stories": {view.name: self._stories(view) for view in self.screen.views},
            "recoloured": {view.name: recoloured_words(view.wiring, view.style.sets) for view in self.screen.views},
            "constant": constant,
            "groups": groups,
            "conditions": {letter: self._condition(c) for c, letter in self.letters.items()},
        }

    def _stories(self, view: View) -> list[str]:
        """What is said in each setting, by the numbers that the rows have; none where the first look says the same."""
        if view.stories == self.screen.views[0].stories and view is not self.screen.views[0]:
            return []
        return [view.stories.get(key, {}).get(setting, "") for key, setting in self.told]

    def _letter(self, given: Condition) -> str:
        """One letter for each condition that occurs: a row of a group is then a short string."""
        n = len(self.letters)
        return self.letters.setdefault(given, LETTERS[n] if n < len(LETTERS) else chr(BEYOND + n))

    def _core(self, core: Core) -> list[object]:
        """Key, cable in words, role, both ends: the number of a terminal, or the accessory where it ends in nothing."""
        cable = self.wiring.cable(core.cable)
        role = self.screen.views[0].reading.roles.get(core.key)
        ends = [self.node_number[end.node] if end.node is not None else self.wiring.printed(end.accessory)
                for end in core.ends]
        return [core.key, cable_words(cable), str(role or ""), *ends]

    def _core_in(self, view: View, core: Core) -> list[str]:
        """Name, colour and sleeves of a core in a look."""
        names = view.style.names
        colour = capital(names.get(core.colour, "bare"))
        sleeves = [
            f"{capital(self._sleeve(sleeve, core, names))} at {self.wiring.printed(core.ends[sleeve.end].accessory)}"
            for sleeve in view.reading.sleeves if sleeve.core == core.key
        ]
        return [str(core), f"{colour} {core.mark}".strip(), joined(sleeves) or "none needed"]

    def _sleeve(self, sleeve: Sleeve, core: Core, names: Mapping[str, str]) -> str:
        colour = names.get(sleeve.colour, sleeve.colour)
        if sleeve.standing is Standing.FITTED and to_be_fitted(sleeve, self.wiring):
            return f"{colour} sleeve to be fitted"
        if sleeve.standing is Standing.FITTED and taken_as_fitted(core, self.wiring):
            return f"{colour} sleeve assumed fitted"
        if sleeve.comes_off:
            return f"{names.get(sleeve.has, '')} sleeve fitted, to come off"
        return SLEEVES[sleeve.standing].format(colour=colour, has=names.get(sleeve.has, ""))

    def _group(self, group: Group) -> dict[str, object]:
        key = group.switches or group.lamps
        return {
            "switches": list(group.switches),
            "loads": list(group.lamps),
            "terminals": [self.node_number[t] for t in group.terminals],
            "rows": {"\n".join(row.setting): self._row(group, key, row) for row in group.rows},
        }

    def _row(self, group: Group, key: tuple[str, ...], row: Row) -> list[object]:
        """States and shares of loads, a letter for each terminal, the cores with current, the number of what is said.

        A load also has those of its ways that a switch can short; a row that shorts ways, or joins the lines of some,
        ends with those shorted and the pairs joined.
        """
        loads = [[lamp.state.value, float(lamp.fraction), *self._may_fail(lamp)] for lamp in row.lamps]
        letters = "".join(self._letter(c) for c in row.conditions)
        flow = [self.core_number[key] for key in self.screen.flows.get(key, {}).get(row.setting, ())]
        shorted = sorted({short.rails[0].accessory for short in row.shorts})
        self.told.append((key, row.setting))
        return [loads, letters, flow, len(self.told) - 1, *([shorted, row.links] if shorted or row.links else [])]

    def _may_fail(self, lamp: Lamp) -> list[list[str]]:
        """The ways of a load that some switch can short."""
        ways = [way for way in lamp.ways if way in self.shorted]
        return [ways] if ways else []

    def _condition(self, given: Condition) -> list[object]:
        """In words, live or not, what a meter reads, and the ways whose rails reach it."""
        ways = joined(map(self.wiring.printed, given.ways))
        return [condition(given, "load"), int(given.live), reading(given, self.wiring.board.voltage), ways]


def reading(given: Condition, voltage: Fraction) -> str:
    """What a meter shows at a terminal, to neutral and to earth."""
    share = plain((given.fraction or 0) * voltage, 0)
    if given.potential is Potential.FLOATING:
        return "joined to nothing: 0 V to tens of volts on a sensitive meter"
    if given.potential is Potential.EARTH and given.solid:
        return "0 V or a few volts to neutral, 0 V to earth"
    if given.solid and given.potential is Potential.NEUTRAL:
        return "0 V to neutral, 0 V or a few volts to earth"
    through = "" if given.solid else ", through a load: can differ by tens of volts; with the load out, nothing"
    return f"{share} V to neutral, {share} V to earth{through}"
