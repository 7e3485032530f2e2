"""The names of things as they are said: terminals, conductors, lamps, switches and how they stand."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from sheetgen.circuit.graph import Step
from sheetgen.circuit.names import Names
from sheetgen.model.accessory import Terminal
from sheetgen.model.words import joined, percent

PLAIN = 10  # denominators below are read as a fraction
LOOPED = 3  # cores in a row from which on the accessories between are named instead
SHARES = {Fraction(1, 2): "half", Fraction(1, 3): "a third", Fraction(2, 3): "two thirds", Fraction(1, 4): "a quarter",
          Fraction(3, 4): "three quarters"}


class Phrases:
    """The names of one wiring's things, put as a sentence needs them."""

    def __init__(self, names: Names):
        self.names = names
        self.contacts = names.switch_terminals

    def label(self, terminal: Terminal) -> str:
        """A terminal's name as the user gave it, without its gang."""
        return self.names.short_label(terminal)

    def place(self, terminal: Terminal) -> str:
        """The accessory a terminal is of, with its gang where there are several."""
        gang = self.names.gang(terminal)
        return f"{terminal.accessory} ({gang})" if gang else self.way(terminal)

    def terminal(self, terminal: Terminal) -> str:
        """'L1 of Hall'."""
        return f"{self.label(terminal)} of {self.place(terminal)}"

    def way(self, terminal: Terminal) -> str:
        """The way that a board terminal belongs to: 'circuit 4'."""
        return self.names.wiring.printed(terminal.accessory)

    def rail(self, terminal: Terminal) -> str:
        """'the neutral of circuit 4'."""
        kinds = dict(self.names.accessories[terminal.accessory].kind.rails)
        return f"the {kinds.get(terminal.name, terminal.name)} of {self.way(terminal)}"

    def switch(self, name: str) -> str:
        """A switch."""
        accessory, switch = self.names.switches[name]
        return f"{accessory.name} ({switch.name})" if switch.name else accessory.name

    def load(self, name: str) -> str:
        """'the lamp at Landing'."""
        load = self.names.loads[name][1]
        what = {"lamp": "lamp", "fan": "fan", "electronics": ""}[load.what]
        named = " ".join(dict.fromkeys(filter(None, (what, load.name)))) or "electronics"
        return f"the {named} at {self._at(name)}"

    def several(self, name: str) -> bool:
        """Whether a load is spoken of as several: the electronics run, a fan runs."""
        load = self.names.loads[name][1]
        return load.what == "electronics" and load.name in ("", "electronics")

    def loads(self, names: Sequence[str]) -> str:
        """'the lamps at North and South'."""
        whats = {self.names.loads[name][1].what for name in names}
        plain = all(not self.names.loads[name][1].name for name in names)
        if len(names) > 1 and whats == {"lamp"} and plain:
            return f"the lamps at {joined(self._at(name) for name in names)}"
        return joined(self.load(name) for name in names)

    def _at(self, name: str) -> str:
        accessory = self.names.loads[name][0]
        return accessory.hangs_from or accessory.name

    def order(self, switch: str) -> int:
        """Where a switch stands in the description."""
        return list(self.names.switches).index(switch)

    def standing(self, name: str, position: str) -> tuple[str, str]:
        """How a switch stands, said of one and of several: ('stands at L1', 'stand at L1')."""
        if position in ("on", "off"):
            word = "closed" if position == "on" else "open"
            return f"is {word}", f"are {word}"
        how = self.names.position(name, position)
        return f"stands {how}", f"stand {how}"

    def passing(self, name: str, position: str) -> str:
        """How line gets through a made contact: 'passes to', 'crosses to', 'goes straight to'."""
        return {"on": "passes the closed contact to", "crossed": "crosses to", "straight": "goes straight to"}.get(
            position, "passes to")

    def share(self, fraction: Fraction) -> str:
        """'half', '3/8', '13 %'."""
        return SHARES.get(fraction) or (str(fraction) if fraction.denominator < PLAIN else percent(fraction))

    def at_switches(self, run: Sequence[Step]) -> list[tuple[Step, ...]]:
        """A run of cores in parts that end at the terminals of switches on the way."""
        parts: list[list[Step]] = [[]]
        for step in run:
            parts[-1].append(step)
            if self.names.accessories[step.end.accessory].kind.switches and step.end in self.contacts:
                parts.append([])
        return [tuple(part) for part in parts if part]

    def on(self, run: Sequence[Step]) -> str:
        """'on W1 (red)'; where the run loops through many accessories, those instead of every cable."""
        if len(run) <= LOOPED:
            return f"on {self.cores_said(run)}"
        between = list(dict.fromkeys(step.end.accessory for step in run[:-1]))
        between = [name for name in between if name != run[-1].end.accessory]
        return f"on {self.cores_said(run[:1])}, looped through {joined(between)}, and {self.cores_said(run[-1:])}"

    def cores_said(self, run: Sequence[Step]) -> str:
        """'W1 (red)', 'W1 and W3 (brown)', 'W1 (red) and F1 (brown)'."""
        cores = [self.names.cores[step.name] for step in run]
        said: list[tuple[list[str], str]] = []
        for core in cores:
            colour = f"{self.names.colour(core.colour)} {core.mark}".strip()
            if said and said[-1][1] == colour:
                said[-1][0].append(core.cable)
            else:
                said.append(([core.cable], colour))
        return joined(f"{joined(cables)} ({colour})" for cables, colour in said)

