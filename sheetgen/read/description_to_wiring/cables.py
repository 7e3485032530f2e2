"""The cables: type, size, colours, and for every core the two terminals it joins and the sleeves it carries."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sheetgen.catalogue.accessories.joints import NOT_SEEN
from sheetgen.catalogue.cables import BY_NAME, METRIC, CableType, cpc_size, find_type, read_size, split_type, type_names
from sheetgen.catalogue.colours import CODES, read_colour, read_core_name, with_sleeve
from sheetgen.model.accessory import Accessory, Level, Meant
from sheetgen.model.description import UNKNOWN_WORDS, CableText
from sheetgen.model.problems import nearest
from sheetgen.model.wiring import Cable, Core, CoreEnd, Size
from sheetgen.model.words import joined
from sheetgen.read.description_to_wiring.accessories import find_terminal
from sheetgen.read.description_to_wiring.board import way_name
from sheetgen.read.description_to_wiring.ledger import Ledger, folded

UNSEEN = "?"  # the terminal at an end of a cable that nobody has seen
NOTHING = ("nothing", "none", "-", "", "cut back", "cut", "loose", "not connected", "n/c")
PROTECTIVE = {"cpc", "GNYE", "GN"}  # plain green was the protective colour before green-and-yellow
LINE_WORDS, LOOP_WORDS = {"l", "line", "live"}, {"loop", "loop in"}  # printed on the blocks of a rose
METHODS = ("100", "101", "102", "103", "A", "B", "C")  # BS 7671 Tables 4D5 and 4D1A


Labels = dict[tuple[str, str], str]  # (accessory, terminal) -> the name the user gave the terminal


def cables_of(
    ledger: Ledger, accessories: tuple[Accessory, ...], colours: str
) -> tuple[tuple[Cable, ...], tuple[Accessory, ...]]:
    """Every cable of the description, in its order; and the accessories with their terminals as the user named them."""
    labels: Labels = {}
    accessories += _ends_not_seen(ledger, accessories)
    cables = tuple(
        cable for name, text in ledger.description.content.cables.items()
        if (cable := _CableReader(ledger, accessories, labels, name, text).cable(colours)) is not None
    )
    given = {(a.name, terminal): label for a in accessories for terminal, label in a.labels}
    shown = {**labels, **given}
    return cables, tuple(
        replace(a, labels=tuple((name, shown[a.name, name]) for t in a.kind.terminals
                                if (a.name, name := t.name) in shown))
        for a in accessories
    )


def _ends_not_seen(ledger: Ledger, accessories: tuple[Accessory, ...]) -> tuple[Accessory, ...]:
    """For every cable seen at one accessory only, one that stands for where it goes."""
    taken = {folded(a.name) for a in accessories}
    made = []
    for name, text in ledger.description.content.cables.items():
        if text.at:
            far = far_end(name)
            if folded(far) in taken:
                ledger.note(("cables", name), "E305", f"'{far}' is what the end of {name} that was not seen is called.",
                            "Give the accessory of that name another one.")
            made.append(Accessory(far, NOT_SEEN.build({}), at=ledger.mark(("cables", name)), opened=False))
    return tuple(made)


def far_end(cable: str) -> str:
    """What the end of a cable that nobody has seen is called."""
    return f"{cable}, end not seen"


class _CableReader:
    """Reads one cable, noting its problems."""

    def __init__(self, ledger: Ledger, accessories: tuple[Accessory, ...], labels: Labels, name: str, text: CableText):
        self.ledger, self.accessories, self.labels = ledger, accessories, labels
        self.name, self.text = name, text
        self.colours, self.told = "", False  # the colour set it is in, and whether the description says so
        self.over_marked: dict[tuple[str, str], str] = {}  # core -> the sleeve written with its colour

    def note(self, where: Iterable[str | int], code: str, message: str, hint: str = "") -> None:
        self.ledger.note(("cables", self.name, *where), code, message, hint)

    def cable(self, default_colours: str) -> Cable | None:
        """The cable, or None where its type or an end is not understood."""
        ends = self._ends()
        understood = self._type()
        colours = self.ledger.colour_set(self.text.colours, "cables", self.name, "colours")
        self.told = bool(self.text.colours or self.ledger.description.content.colours)
        if understood is None:
            return None
        cable_type, size = understood
        if not colours:
            colours = "current" if cable_type.sheath == "flex" else default_colours
        self.colours = colours
        cores = self._cores(cable_type, colours, ends)
        here, there = ends
        if here is None or there is None:
            return None
        self._method()
        return Cable(
            self.name, cable_type.name, size, cores, (here.name, there.name), colours,
            cpc_size=cpc_size(cable_type, size), sheath=cable_type.sheath, run_in=self.text.in_,
            method=self.text.method.upper(), length=self.text.length, note=self.text.note,
            at=self.ledger.mark(("cables", self.name)), at_one_end=bool(self.text.at),
        )

    def _ends(self) -> tuple[Accessory | None, Accessory | None]:
        """The accessories at both ends; of a cable seen at one end the other is the one made for it."""
        text = self.text
        if text.at:
            for key, word in (("from", text.from_), ("to", text.to)):
                if word:
                    self.note((key,), "E323", f"A cable seen at one end has 'at' alone, without '{key}'.",
                              "Write from and to where both ends are known.")
            far = far_end(self.name)
            return self._accessory("at", text.at), next(a for a in self.accessories if a.name == far)
        missing = [key for key, word in (("from", text.from_), ("to", text.to)) if not word]
        for key in missing:
            self.note((), "E202", f"'{key}' is missing in cables {self.name}.",
                      "Where only one end was seen write 'at:' and that accessory, without 'from' and 'to'.")
        return (self._accessory("from", text.from_) if text.from_ else None,
                self._accessory("to", text.to) if text.to else None)

    def _method(self) -> None:
        if self.text.method and self.text.method.upper() not in METHODS:
            self.note(("method",), "E312", f"The installation method '{self.text.method}' is not known.",
                      nearest(self.text.method, METHODS))

    def _accessory(self, key: str, word: str) -> Accessory | None:
        for accessory in self.accessories:
            if folded(accessory.name) == folded(word) or folded(word) in map(folded, accessory.holds):
                return accessory
        way = way_name(word, tuple(a for a in self.accessories if a.kind.level is Level.BOARD))
        for accessory in self.accessories:
            if accessory.name == way:
                return accessory
        description = self.ledger.description
        described = description.content.accessories  # also those not understood, which is said there
        if folded(word) not in map(folded, (*described, *description.broken)):
            self.note((key,), "E313", f"There is no accessory called '{word}'.",
                      nearest(word, (*(a.name for a in self.accessories), *described)))
        return None

    def _type(self) -> tuple[CableType, Size | None] | None:
        words, size_text = split_type(self.text.type)
        cable_type = find_type(words)
        if cable_type is None:
            self.note(("type",), "E314", f"There is no cable called '{words}'.", nearest(words, type_names()))
            return None
        colours = {(read_core_name(with_sleeve(word)[0]) or ("",))[0] for word in self.text.cores}
        if cable_type.earthed and colours & PROTECTIVE:
            cable_type = BY_NAME[cable_type.earthed]
        size = read_size(size_text) if size_text else None
        if size_text and size is None:
            self.note(("type",), "E315", f"There is no cable of size {size_text}.",
                      f"Known: {', '.join(METRIC)} mm2; 1/.044, 3/.029, 3/.036, 7/.029.")
        return cable_type, size

    def _cores(self, cable_type: CableType, colours: str, ends: tuple[Accessory | None, ...]) -> tuple[Core, ...]:
        found: list[Core] = []
        for word, terminals in self.text.cores.items():
            plain, sleeve = with_sleeve(word)
            name = read_core_name(plain)
            if name is not None and sleeve:
                self.over_marked[name] = sleeve
            if name is None:
                self.note(("cores", word), "E316", f"'{word}' is not a colour.",
                          nearest(word, (*CODES, *CODES.values(), "cpc")))
                continue
            if len(terminals) != (1 if self.text.at else 2):
                self._not_two(word)
                continue
            first, second = (*terminals, UNSEEN)[:2]
            core_ends = self._end(word, 0, first, ends[0]), self._end(word, 1, second, ends[1])
            found.append(_core(self.name, name, cable_type, core_ends))
        found = self._in_order(found, cable_type, colours)
        if len(found) == len(self.text.cores):
            self._count(found, cable_type)
            self._foreign([c for c in found if not c.cpc], cable_type, colours)
        return self._sleeved(found, colours)

    def _not_two(self, word: str) -> None:
        if self.text.at:
            self.note(("cores", word), "E205", f"Core '{word}' of a cable seen at one end has one terminal: {word}: L.",
                      "Write from and to where both ends are known.")
            return
        self.note(("cores", word), "E205", f"Core '{word}' needs its two ends: [terminal at 'from', terminal at "
                  "'to'].", "Write 'nothing' for an end that is cut back, '?' for one that nobody knows.")

    def _end(self, word: str, i: int, terminal: str, accessory: Accessory | None) -> CoreEnd:
        if accessory is None:
            return CoreEnd("", None)
        if folded(terminal) in NOTHING:
            return CoreEnd(accessory.name, None)
        if folded(terminal) in UNKNOWN_WORDS and find_terminal(accessory.kind, terminal) is None:
            return CoreEnd(accessory.name, None, unknown=True)
        name = self._terminal(accessory, i, terminal)
        if name is None:
            known = [t.name for t in accessory.kind.terminals if not t.inner]
            hint = nearest(terminal, known) if known else "Write 'nothing'."
            if terminal.strip().isdecimal() and known:  # the terminals of fans and isolators are often numbered
                hint += f" {_by_labels(accessory)}"
            elif folded(terminal) == "l3" and "COM" in known:
                hint = (f"Where a two-way switch is marked L1, L2 and L3, one of them is the common, mostly L1: find "
                        f"out which, and write it at '{accessory.name}', labels: {{COM: L1, L1: L2, L2: L3}}.")
            self.note(("cores", word, i), "E317", f"'{accessory.name}' ({accessory.kind.name}) has no terminal "
                      f"'{terminal}'.", hint)
        elif folded(terminal) != folded(name):
            self.labels.setdefault((accessory.name, name), terminal.strip())
        return CoreEnd(accessory.name, name)

    def _terminal(self, accessory: Accessory, i: int, word: str) -> str | None:
        """The terminal a word means at an end: by the printed names first; of an accessory within, without its name."""
        said = self.text.at or (self.text.from_, self.text.to)[i]
        within = next((held for held in accessory.holds if folded(held) == folded(said)), "")
        words = (f"{within}.{word}", word) if within else (word,)
        printed = {folded(label): terminal for terminal, label in accessory.labels}
        for each in words:
            if folded(each) in printed:
                return printed[folded(each)]
            if not printed and self._is_second_line(accessory, each):
                return "SL"
            if (name := find_terminal(accessory.kind, each)) and name not in printed.values():
                return name
            if name and folded(each) == folded(name):
                self.note((), "E328", f"'{name}' at '{accessory.name}' is printed '{accessory.label(name)}' there.",
                          "Write the printed name.")
                return name
        return self._second_contact(accessory, word)

    def _is_second_line(self, accessory: Accessory, word: str) -> bool:
        """LIVE or L of a rose that has LOOP as well, and no block called SL: the block that the lamp is fed from."""
        if not accessory.kind.name.startswith("ceiling rose") or folded(word) not in LINE_WORDS:
            return False
        used = self._words_at(accessory)
        return bool(used & LOOP_WORDS) and not any(find_terminal(accessory.kind, each) == "SL" for each in used)

    def _words_at(self, accessory: Accessory) -> set[str]:
        """Every word that the description uses for a terminal of an accessory."""
        return {folded(t) for cable in self.ledger.description.content.cables.values()
                for k, end in enumerate((cable.at or cable.from_, cable.to)) if folded(end) == folded(accessory.name)
                for ends in cable.cores.values() for t in ends[k:k + 1]}

    def _second_contact(self, accessory: Accessory, word: str) -> str | None:
        """A one-way switch whose two contacts are marked L1 and L2, or COM and L2: the one that is not named."""
        kind = accessory.kind
        if folded(word) != "l2" or {t.name for t in kind.terminals} != {"COM", "L1", "E"}:
            return None
        used = self._words_at(accessory)
        if {"l1", "com"} <= used:
            return None
        return "COM" if "l1" in used else "L1"

    def _in_order(self, cores: list[Core], cable_type: CableType, colours: str) -> list[Core]:
        """Cores in the order of their colour set, the cpc last, whatever order they were written in."""
        order = self.ledger.sets[colours].cores.get(cable_type.name, ())
        ranked = sorted(cores, key=lambda c: (
            c.cpc, order.index(c.colour) if c.colour in order else len(order), c.colour, c.mark))
        return [replace(core, index=i) for i, core in enumerate(ranked, 1)]

    def _count(self, cores: list[Core], cable_type: CableType) -> None:
        live, cpc = [c for c in cores if not c.cpc], [c for c in cores if c.cpc]
        wanted = cable_type.live + bool(cable_type.cpc)
        single = cable_type.name in ("single", "unsheathed single")
        if single and len(cores) == 1:
            live, cpc = cores, []
        if len(live) > cable_type.live or (len(cpc) > bool(cable_type.cpc) and not (single and len(cores) == 1)):
            self.note(("cores",), "E318", f"A {cable_type.name} has {wanted} cores, not {len(cores)}.")
        elif len(cores) < wanted:
            given = f"only {len(cores)} are given" if len(cores) > 1 else "only one is given"
            missing = self._missing(live, cpc, cable_type)
            self.note(("cores",), "E319", f"A {cable_type.name} has {wanted} cores; {given}{missing}.",
                      "Say what the others do; write [nothing, nothing] for a core that is not connected.")

    def _missing(self, live: list[Core], cpc: list[Core], cable_type: CableType) -> str:
        """': the cpc is missing', where the colour set tells which."""
        own = [c for c in self.ledger.sets[self.colours].cores.get(cable_type.name, ()) if c not in ("", "GNYE")]
        absent = [CODES[c] for c in own if c not in {core.colour for core in live}] if (
            all(core.colour in own for core in live)) else []
        if cable_type.cpc and not cpc:
            absent.append("cpc")
        return f": {' and '.join(absent)} {'is' if len(absent) == 1 else 'are'} missing" if absent else ""

    def _foreign(self, live: list[Core], cable_type: CableType, colours: str) -> None:
        chosen = self.ledger.sets[colours]
        own = (*chosen.cores.get(cable_type.name, ()), *chosen.also)
        if cable_type.name.endswith("single"):
            own = tuple(c for cores in chosen.cores.values() for c in cores) + chosen.also
        foreign = [c.colour for c in live if c.colour not in own and c.colour != "GNYE"] if cable_type.live else []
        written = self.text.colours or self.ledger.description.content.colours
        if not foreign or written in self.ledger.no_colour_sets:
            return  # of no known set none is foreign: that was told where it is written
        given = {core.colour for core in live}
        better = [s for s in self.ledger.sets.values() if given <= set(s.cores.get(cable_type.name, ()))]
        if better and not self.told:
            for colour in foreign:
                self.ledger.without_colours(self.name, colour, better[0].name)
            return
        are = "is no core" if len(foreign) == 1 else "are no cores"
        self.note(("cores",), "E320",
                  f"{joined(CODES[c] for c in foreign)} {are} of a {cable_type.name} in the {colours} colours.",
                  f"Write 'colours: {better[0].name}' on this cable." if better else
                  f"Its cores are {', '.join(CODES[code] if code else 'cpc' for code in own)}.")

    def _sleeved(self, cores: list[Core], colours: str) -> tuple[Core, ...]:
        chosen = self.ledger.sets[colours]
        sleeves: dict[int, tuple[str | None, str | None]] = {
            c.index: self._taken_as_sleeved(c, chosen.protective) for c in cores if c.cpc and not c.colour}
        sleeves |= {c.index: (self.over_marked[_name(c)],) * 2 for c in cores if _name(c) in self.over_marked}
        for word in self.text.bare:
            for core in self._named(word, cores, "bare"):
                sleeves[core.index] = (None, None)
        given = self.text.sleeved
        for word in given:
            for core in self._named(word, cores, "sleeved"):
                if isinstance(given, dict):
                    sleeves[core.index] = self._sleeve_colours(word, given[word])
                else:
                    sleeves[core.index] = (chosen.protective if core.cpc else chosen.line,) * 2
        return tuple(_with_sleeves(core, self._where_seen(core, sleeves.get(core.index, (None, None))))
                     for core in cores)

    def _where_seen(self, core: Core, sleeves: tuple[str | None, str | None]) -> tuple[str | None, str | None]:
        """The sleeves without those in what nobody has opened: none can say what an end carries there."""
        closed = {a.name for a in self.accessories if not a.opened}
        here, there = (None if end.accessory in closed else sleeve
                       for end, sleeve in zip(core.ends, sleeves, strict=True))
        return here, there

    def _taken_as_sleeved(self, core: Core, colour: str) -> tuple[str | None, str | None]:
        """The sleeves that a bare cpc is taken to have, of which nobody told: none where it serves as anything else."""
        kinds = {a.name: a.kind for a in self.accessories}
        here, there = (colour if e.terminal is None or kinds[e.accessory].takes_cpc(e.terminal) else None
                       for e in core.ends)
        return here, there

    def _named(self, word: str, cores: list[Core], key: str) -> list[Core]:
        name = read_core_name(word)
        same = [c for c in cores if name and _name(c) == name]
        if not same:
            self.note((key,), "E321", f"'{word}' under '{key}' is no core of {self.name}.",
                      nearest(word, (c.label for c in cores)))
        return same

    def _sleeve_colours(self, word: str, given: str | list[str]) -> tuple[str | None, str | None]:
        both = given if isinstance(given, list) else [given, given]
        if len(both) != 2:
            self.note(("sleeved", word), "E322", "A core has two ends: [colour at 'from', colour at 'to'].")
            return None, None
        read = [None if folded(w) in NOTHING else read_colour(w) or w for w in both]
        for colour in read:
            if colour is not None and colour not in CODES:
                self.note(("sleeved", word), "E316", f"'{colour}' is not a colour.",
                          nearest(colour, (*CODES, *CODES.values())))
        return read[0], read[1]


def _by_labels(accessory: Accessory) -> str:
    """What to write where a terminal has only a number, which means what that maker chose."""
    to_label = [t.name for t in accessory.kind.terminals if not t.inner and t.meant is not Meant.EARTH][:4]
    example = ", ".join(f"{name}: its number" for name in to_label)
    return (f"Printed numbers differ from maker to maker: read on the thing itself which is which and write it at "
            f"'{accessory.name}', labels: {{{example}}}.")


def _name(core: Core) -> tuple[str, str]:
    return ("cpc" if core.cpc and not core.colour else core.colour), core.mark


def _core(cable: str, name: tuple[str, str], cable_type: CableType, ends: tuple[CoreEnd, CoreEnd]) -> Core:
    colour, mark = name
    protective = colour in PROTECTIVE
    if colour == "cpc":
        colour = "GNYE" if cable_type.cpc == "insulated" or cable_type.name in ("single", "unsheathed single") else ""
    return Core(cable, 0, colour, ends, mark, cpc=protective)


def _with_sleeves(core: Core, sleeves: tuple[str | None, str | None]) -> Core:
    here, there = (
        replace(end, sleeve=None if end.terminal is None and (end.nothing or core.cpc) else sleeve)
        for end, sleeve in zip(core.ends, sleeves, strict=True))
    return replace(core, ends=(here, there))
