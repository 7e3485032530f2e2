"""What was found out as plain values, for other programs, and the JSON Schema of their shape."""

from __future__ import annotations

from sheetgen.find.steps import numbered
from sheetgen.model.finding_out import FaultFound, Identified, Means, Outcome, PlanFigures, PlanStep, Settings, Spot

Value = dict[str, object]
_SPOT = {"type": "string", "description": "'Hall COM', or of a cable end 'W5/red'"}
_PAIR = {"type": "array", "items": _SPOT, "minItems": 2, "maxItems": 2}


def spot_text(spot: Spot, cables: frozenset[str] = frozenset()) -> str:
    """'Hall COM'; of a cable 'W5/red'."""
    return f"{spot[0]}/{spot[1]}" if spot[0] in cables else f"{spot[0]} {spot[1]}"


def step_value(step: PlanStep | None, base: Settings, cables: frozenset[str] = frozenset()) -> Value | None:
    """A test with all that follows from it; None where no test is left."""
    if step is None:
        return None
    trial = step.trial

    def pair(spots: tuple[Spot, Spot]) -> list[str]:
        return [spot_text(spot, cables) for spot in spots]

    def outcome(found: Outcome) -> Value:
        return {"reads": found.reads, "closed": [pair(p) for p in found.closed], "candidates": len(found.left),
                "left": list(found.left), "then": step_value(found.then, base, cables)}

    return {
        "says": trial.says,
        "means": trial.means.value,
        "dead": trial.means is not Means.LIVE and trial.means is not Means.WATCH,
        "place": trial.place,
        "settings": {**dict(base), **dict(trial.setting)},
        "joined": [pair(p) for p in trial.joined],
        "between": [spot for p in trial.pairs for spot in pair(p)],
        "cost": trial.cost / 5,
        "outcomes": [outcome(o) for o in step.outcomes],
    }


def figures_value(figures: PlanFigures | None) -> Value | None:
    """How good the plan is."""
    if figures is None:
        return None
    return {
        "tests": {"mean": figures.mean_tests, "worst": figures.worst_tests},
        "readings": {"mean": figures.mean_readings, "worst": figures.worst_readings},
        "bound": {"mean": figures.mean_bound, "worst": figures.worst_bound},
        "cost": figures.cost, "cost bound": figures.cost_bound, "exact": figures.exact,
    }


def fault_value(found: FaultFound) -> Value:
    """The faults that fit and the plan."""
    _, ends = numbered(found.plan)
    alone = found.suspects[0] if len(found.suspects) == 1 else None
    return {
        "candidates": len(found.suspects),
        "all": True,
        "thought of": found.tried,
        "weights": "assumed",
        "suspects": [
            {"number": i, "fault": s.fault.value, "says": s.says, "look": s.look, "places": list(s.places),
             "share": s.share} for i, s in enumerate(found.suspects)
        ],
        "planned": found.told_apart,
        "figures": figures_value(found.figures),
        "ends": [list(end.left) for end in ends],
        "test": step_value(found.plan, found.base),
        "result": alone.says if alone else None,
    }


def identify_value(found: Identified, cables: frozenset[str]) -> Value:
    """What fits, what is certain and the plan. `cables`: names of the cables, to write their spots as 'W5/red'."""
    return {
        "candidates": found.candidates,
        "all": found.all,
        "assumed": list(found.assumed),
        "certain": [{"end": c.end, "core": c.core, "role": c.role} for c in found.certain],
        "planned": found.told_apart,
        "figures": figures_value(found.figures),
        "test": step_value(found.plan, found.base, cables),
        "pairs": [list(pair) for pair in found.pairs] if found.pairs is not None else None,
        "stop": found.stop or None,
        "result": found.text or None,
    }


def schema_of_plan() -> Value:
    """The JSON Schema of a test and what follows from it, as both `identify` and `fault` give it."""
    outcome = {
        "type": "object",
        "required": ["reads", "closed", "candidates", "left", "then"],
        "properties": {
            "reads": {"type": "string", "description": "what the person sees or the instrument reads"},
            "closed": {"type": "array", "items": _PAIR,
                       "description": "of the pairs tried, those that read closed, or a voltage"},
            "candidates": {"type": "integer", "description": "how many are left then"},
            "left": {"type": "array", "items": {"type": "integer"}, "description": "which, by number"},
            "then": {"anyOf": [{"$ref": "#/$defs/test"}, {"type": "null"}],
                     "description": "null: no test tells more, or, where `planned` or `all` is false, run it again"},
        },
        "additionalProperties": False,
    }
    test = {
        "type": "object",
        "required": ["says", "means", "dead", "place", "settings", "joined", "between", "cost", "outcomes"],
        "properties": {
            "says": {"type": "string"},
            "means": {"enum": [m.value for m in Means]},
            "dead": {"type": "boolean", "description": "the supply is off"},
            "place": {"type": "string"},
            "settings": {"type": "object", "additionalProperties": {"type": "string"},
                         "description": "every switch and its position"},
            "joined": {"type": "array", "items": _PAIR, "description": "spots joined by hand for the test"},
            "between": {"type": "array", "items": _SPOT,
                        "description": "the pairs tried, two spots each, one pair after another"},
            "cost": {"type": "number", "description": "in dead tests at one place; assumed"},
            "outcomes": {"type": "array", "items": outcome, "minItems": 2},
        },
        "additionalProperties": False,
    }
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "$defs": {"test": test}}


def fault_schema() -> Value:
    """The JSON Schema of `sheetgen fault --format json`."""
    number, text = {"type": "number"}, {"type": "string"}
    suspect = {
        "type": "object", "required": ["number", "fault", "says", "look", "places", "share"],
        "properties": {"number": {"type": "integer"}, "fault": text, "says": text, "look": text,
                       "places": {"type": "array", "items": text}, "share": number},
        "additionalProperties": False,
    }
    figures = _figures_schema()
    properties = {
        "candidates": {"type": "integer", "description": "faults that fit"},
        "all": {"const": True, "description": "every single fault was looked at"},
        "thought of": {"type": "integer"},
        "weights": {"const": "assumed"},
        "suspects": {"type": "array", "items": suspect, "description": "likeliest first"},
        "planned": {"type": "boolean", "description": "the plan goes to its ends; false: watch, and run it again"},
        "figures": {"anyOf": [figures, {"type": "null"}]},
        "ends": {"type": "array", "items": {"type": "array", "items": {"type": "integer"}}},
        "test": {"anyOf": [{"$ref": "#/$defs/test"}, {"type": "null"}]},
        "result": {"type": ["string", "null"], "description": "the fault, where only one is left"},
    }
    return {**schema_of_plan(), "title": "What can be broken", "type": "object", "properties": properties,
            "required": list(properties), "additionalProperties": False}


def _figures_schema() -> Value:
    number = {"type": "number"}
    both = {"type": "object", "required": ["mean", "worst"],
            "properties": {"mean": number, "worst": {"type": "integer"}}, "additionalProperties": False}
    return {
        "type": "object", "required": ["tests", "readings", "bound", "cost", "cost bound", "exact"],
        "properties": {"tests": both, "readings": both, "bound": both, "cost": number, "cost bound": number,
                       "exact": {"type": "boolean"}},
        "additionalProperties": False,
    }


def identify_schema() -> Value:
    """The JSON Schema of `sheetgen identify --format json`."""
    text = {"type": "string"}
    certain = {"type": "object", "required": ["end", "core", "role"],
               "properties": {"end": text, "core": text, "role": text}, "additionalProperties": False}
    properties = {
        "candidates": {"type": "integer", "description": "ways of joining the ends that fit, of those looked at"},
        "all": {"type": "boolean", "description": "false: too many to list, some were looked at"},
        "assumed": {"type": "array", "items": text, "description": "what is taken for granted"},
        "certain": {"type": "array", "items": certain, "description": "the same whichever candidate is true"},
        "planned": {"type": "boolean", "description": "the plan goes to its ends; false: take a reading, run it again"},
        "figures": {"anyOf": [_figures_schema(), {"type": "null"}]},
        "test": {"anyOf": [{"$ref": "#/$defs/test"}, {"type": "null"}]},
        "pairs": {"anyOf": [{"type": "array", "items": {"type": "array", "items": text, "minItems": 2, "maxItems": 2}},
                            {"type": "null"}], "description": "the ends that are one cable, where one way is left"},
        "stop": {"type": ["string", "null"], "description": "why nothing is to be joined yet"},
        "result": {"type": ["string", "null"], "description": "the description, where one way is left"},
    }
    return {**schema_of_plan(), "title": "Which end belongs to which", "type": "object", "properties": properties,
            "required": list(properties), "additionalProperties": False}
