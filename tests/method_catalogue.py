"""Every circuit that the catalogue of methods lays: which combinations there are, and the description of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sheetgen.catalogue import methods

ROOMS = ("Hall", "Landing", "Porch", "Kitchen", "Study", "Attic")
SWITCHES = range(1, 7)
LIGHTS = range(1, 5)


@dataclass(frozen=True)
class Combination:
    """One combination of the catalogue."""

    loop: str
    join: str
    switches: int
    conduit: bool

    @property
    def wired(self) -> str:
        """In the words of a description."""
        return "singles in conduit" if self.conduit else "sheathed cable"

    @property
    def names(self) -> tuple[str, str, str]:
        """As recognition names it."""
        return self.loop, methods.switching_of(self.switches), self.join

    def text(self, lights: int = 1, colours: str = "current") -> str:
        """The short description."""
        return (
            f"job: {self.loop}, {self.join}\n"
            f"colours: {colours}\n"
            f"method: {{loop: '{self.loop}', join: '{self.join}', wired: {self.wired}}}\n"
            f"lights: [{', '.join(f'Room {i + 1}' for i in range(lights))}]\n"
            f"switches: [{', '.join(ROOMS[:self.switches])}]\n"
            "way: 1\n"
        )

    def __str__(self) -> str:
        return f"{self.loop}-{self.join}-{self.switches}-{'conduit' if self.conduit else 'cable'}".replace(" ", "_")


def accepted() -> Iterator[Combination]:
    """Every combination that is laid, for one to six switches."""
    return (c for c in _all() if not _refusal(c))


def refused() -> Iterator[tuple[Combination, str]]:
    """Every combination that is refused, with its reason."""
    return ((c, reason) for c in _all() if (reason := _refusal(c)))


def _all() -> Iterator[Combination]:
    return (
        Combination(loop.name, join.name, n, conduit)
        for loop in methods.LOOPS for join in methods.JOINS for n in SWITCHES for conduit in (False, True)
    )


def _refusal(c: Combination) -> str:
    loop, join = methods.find_loop(c.loop), methods.find_join(c.join)
    return methods.refusal(loop, join, c.switches, c.conduit)
