"""The arrangements of the gallery, and what is told of each; counts and places from the solved circuit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from sheetgen.catalogue import methods
from sheetgen.catalogue.methods.ports import Join, Loop
from sheetgen.model.reading import Reading
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import capital, count, joined

LIGHT, SWITCHES = "Landing", ("Hall", "Landing", "Attic")  # the rooms in which all of them are drawn
THREE = "Three switches"
NUMBERS = ("no", "one", "two", "three")


@dataclass(frozen=True)
class MethodShown:
    """A loop and a join, with so many switches, in cable or in conduit."""

    loop: Loop
    join: Join
    switches: int
    conduit: bool

    @property
    def chapter(self) -> str:
        """Under which heading it stands."""
        return THREE if self.switches > 2 else capital(self.loop.name)

    @property
    def name(self) -> str:
        """'Conversion, two switches, sheathed cable'."""
        switches = "one switch" if self.switches == 1 else f"{NUMBERS[self.switches]} switches"
        wired = "singles in conduit" if self.conduit else "sheathed cable"
        place = f", looped {self.loop.name}" if self.switches > 2 else ""
        return f"{capital(self.join.name)}{place}, {switches}, {wired}"

    @property
    def text(self) -> str:
        """Its description."""
        return (
            f"job: {self.name}\nway: 1\nmethod: {{loop: '{self.loop.name}', join: '{self.join.name}', "
            f"wired: {'singles in conduit' if self.conduit else 'sheathed cable'}}}\n"
            f"lights: [{LIGHT}]\nswitches: [{', '.join(SWITCHES[:self.switches])}]\n"
        )


def arrangements() -> tuple[MethodShown, ...]:
    """Every loop with every join in cable and in conduit, with as few switches as it takes; at the end each join once
    with three."""
    few = tuple(_with_few())
    three: dict[str, MethodShown] = {}
    for a in few:
        if a.switches == 2 and not methods.refusal(a.loop, a.join, 3, a.conduit):
            three.setdefault(a.join.name, MethodShown(a.loop, a.join, 3, a.conduit))
    return (*few, *three.values())


def _with_few() -> Iterator[MethodShown]:
    for loop in methods.LOOPS:
        for join in methods.JOINS:
            for conduit in (False, True):
                for switches in (1, 2):
                    if not methods.refusal(loop, join, switches, conduit):
                        yield MethodShown(loop, join, switches, conduit)
                        break


def told(arrangement: MethodShown, wiring: Wiring, reading: Reading) -> str:
    """The paragraph: what the method is, what it takes, and where permanent line and neutral are both at hand."""
    fixed = [c for c in wiring.cables if not c.flex]
    kinds = Counter(c.type for c in fixed if not c.single)
    singles = sum(c.single for c in fixed)
    parts = [*(f"{number} {kind}" for kind, number in kinds.items()), *([count(singles, "single")] if singles else ())]
    both = [p.accessory for p in reading.places if p.permanent_line and p.neutral]
    hand = f"{joined(both)} {'has' if len(both) == 1 else 'have'}" if both else "No accessory has"
    return (f"{arrangement.loop.taught} {arrangement.join.taught} It takes {joined(parts)}. {hand} both permanent line "
            "and neutral, as a sensor or timer may need.")
