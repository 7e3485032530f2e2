"""Every figure the program holds or works out, against the sources it names.

None of them was checked against a printed standard. "secondary" means read in a source that is not the standard;
"memory" not confirmed; "worked" worked out by hand from figures of the other kinds.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from circuits import SETS, Circuit
from judged_circuit import solution_to_reading

from sheetgen.catalogue.cables import BY_NAME, FLAT_CPC, IMPERIAL, cpc_size, read_size
from sheetgen.judge.figures import reckon, tables
from sheetgen.judge.figures.conductors import drop_per_metre, milliohm_per_metre, ohms
from sheetgen.judge.figures.devices import limit_of, trip_amps
from sheetgen.judge.figures.ratings import rating_of
from sheetgen.model.reckoning import Reckoning
from sheetgen.model.wiring import Board, Cable, Core, CoreEnd, Device, Way, Wiring
from sheetgen.pipeline import judged
from sheetgen.solve.wiring_to_solution import wiring_to_solution

F = Fraction


def reckoned(wiring: Wiring) -> Reckoning:
    solution = wiring_to_solution(wiring)
    return reckon(wiring, solution, solution_to_reading(wiring, solution, SETS).ways)


def run(size: str, metres: str, watts: int = 8, ze: str = "0.35", **facts) -> Wiring:
    """One cable from the board to a fitting at its end."""
    c = Circuit(ze=F(ze))
    c.way()
    c.put("Light", "light fitting", lamp=F(watts))
    c.twin("way 1", "Light", ("L", "L"), ("N", "N"), size=size, length=F(metres), **facts)
    return c.wiring()


# IEC 60228:2004 (secondary), milliohm per metre at 20 degC.
@pytest.mark.parametrize(("size", "solid", "flexible"), [
    ("0.5", "36.0", "39.0"), ("0.75", "24.5", "26.0"), ("1.0", "18.1", "19.5"), ("1.5", "12.1", "13.3"),
    ("2.5", "7.41", "7.98"), ("4.0", "4.61", "4.95")])
def test_conductor_resistance(size, solid, flexible):
    assert milliohm_per_metre(read_size(size), flex=False) == F(solid)
    assert milliohm_per_metre(read_size(size), flex=True) == F(flexible)


# Strands and areas (secondary); resistance from 17.241 milliohm mm2 per metre, IEC annealed copper (worked).
@pytest.mark.parametrize(("size", "area", "milliohm", "amps"), [
    ("1/.036", "0.657", "26.25", None), ("1/.044", "0.981", "17.58", 5), ("3/.029", "1.278", "13.49", 10),
    ("3/.036", "1.970", "8.75", 15), ("7/.029", "2.983", "5.78", 20)])
def test_imperial_sizes(size, area, milliohm, amps):
    assert IMPERIAL[size] == F(area)
    assert milliohm_per_metre(read_size(size), flex=False) == F(milliohm)
    assert abs(F("17.241") / F(area) - F(milliohm)) < F("0.02")
    assert tables.IMPERIAL_AMPS.get(size) == amps  # IEE Wiring Regulations, 13th edition, 1955 (secondary)


def test_imperial_strands_give_their_areas():
    # strands / diameter in inches: n * pi/4 * d^2, d in mm
    for size, area in IMPERIAL.items():
        strands, _, inches = size.partition("/")
        millimetres = float("0" + inches) * 25.4
        assert int(strands) * 3.14159265 / 4 * millimetres ** 2 == pytest.approx(float(area), rel=0.006)


# On-Site Guide appendix I (secondary): R1+R2 of flat twin with cpc; times 1.20 (worked).
@pytest.mark.parametrize(("line", "cpc", "cold", "hot"), [
    ("1.0", "1.0", "36.20", "43.44"), ("1.5", "1.0", "30.20", "36.24"), ("1.5", "1.5", "24.20", "29.04"),
    ("2.5", "1.0", "25.51", "30.612"), ("2.5", "1.5", "19.51", "23.412")])
def test_r1_r2_of_pairs(line, cpc, cold, hot):
    both = sum(milliohm_per_metre(read_size(s), flex=False) for s in (line, cpc))
    assert both == F(cold)
    assert both * tables.HOT == F(hot)


def test_the_factor_from_20_to_70_degrees():
    # (230 + 70) / (230 + 20) = 1 + 0.004 x 50; On-Site Guide Table I3 (from memory)
    assert tables.HOT == F(230 + 70, 230 + 20) == 1 + F("0.004") * 50


def test_cpc_sizes_of_flat_cable():
    # 1.0/1.0, 1.5/1.0, 2.5/1.5 (secondary; three-core from memory); imperial PVC twin and earth (secondary).
    assert {s: FLAT_CPC[s] for s in ("1.0", "1.5", "2.5")} == {"1.0": "1.0", "1.5": "1.0", "2.5": "1.5"}
    assert {s: FLAT_CPC[s] for s in ("1/.044", "3/.029", "3/.036", "7/.029")} == {
        "1/.044": "1/.044", "3/.029": "1/.044", "3/.036": "1/.044", "7/.029": "3/.036"}
    for kind in ("twin and earth", "three-core and earth"):
        assert cpc_size(BY_NAME[kind], read_size("1.5")) == read_size("1.0")


# BS 7671 Table 4D5 (secondary for 1.0, 1.5 and 27 A; the rest of 2.5 from memory).
@pytest.mark.parametrize(("method", "amps"), [
    ("100", ("13", "16", "21")), ("101", ("10.5", "13", "17")), ("102", ("13", "16", "21")),
    ("103", ("8", "10", "13.5")), ("C", ("16", "20", "27")), ("A", ("11.5", "14.5", "20"))])
def test_ratings_of_flat_cable(method, amps):
    for size, wanted in zip(("1.0", "1.5", "2.5"), amps, strict=True):
        for kind in ("twin and earth", "three-core and earth"):
            rating, source, missing = rating_of(cable(kind, size, method))
            assert (rating, missing) == (F(wanted), ()) and source.startswith("BS 7671 Table 4D5")


def cable(kind: str, size: str, method: str = "") -> Cable:
    return Cable("W1", kind, read_size(size), (), ("A", "B"), method=method, sheath=BY_NAME[kind].sheath)


# BS 7671 Table 4D1A, two single-core cables loaded: A in conduit in insulation, B in conduit, C clipped (memory).
@pytest.mark.parametrize(("method", "amps"), [
    ("A", ("11", "14.5", "20")), ("B", ("13.5", "17.5", "24")), ("C", ("15.5", "20", "27"))])
def test_ratings_of_singles(method, amps):
    for size, wanted in zip(("1.0", "1.5", "2.5"), amps, strict=True):
        rating, source, missing = rating_of(cable("single", size, method))
        assert (rating, source, missing) == (F(wanted), f"BS 7671 Table 4D1A, method {method} (from memory)", ())


def test_singles_in_a_conduit_with_another_circuit_have_no_rating_of_one_alone():
    text = """
job: Two lights
board: {ways: {1: {serves: A, device: type B 6 A}, 2: {serves: B, device: type B 16 A}}}
accessories: {A: {kind: batten lampholder}, B: {kind: batten lampholder}}
cables:
  W1: {type: unsheathed single 1.0, method: B, in: pipe, from: way 1, to: A, cores: {BN: [L, L]}}
  W2: {type: unsheathed single 1.0, method: B, in: %s, from: way 2, to: B, cores: {BN: [L, L]}}
"""
    _, alone = judged(text % "another")
    _, both = judged(text % "pipe")
    assert [f.rating for f in alone.figures.cables] == [F("13.5")] * 2
    assert {f.missing for f in both.figures.cables} == {("rating of unsheathed single 1.0 beside other circuits",)}
    for reading in (alone, both):  # a device that is too large for it alone is told all the same
        assert [f.says for f in reading.findings if f.rule == "coordination"] == [
            "W2 may carry 13.5 A, and the device of circuit 2 (B) is type B 16 A."]


# BS 7671 Table 4F3A (in part secondary, in part from memory) and 4F3B (secondary).
@pytest.mark.parametrize(("size", "amps", "drop"), [("0.5", 3, 93), ("0.75", 6, 62), ("1.0", 10, 46)])
def test_flex(size, amps, drop):
    assert rating_of(cable("two-core flex", size))[0] == amps
    assert drop_per_metre(read_size(size), flex=True) * 2 == drop


def test_no_figure_is_made_up():
    assert rating_of(cable("twin and earth", "1.0")) == (None, "", ("installation method of W1",))
    assert rating_of(cable("twin and earth", "4.0", "C")) == (None, "", ("rating of twin and earth 4.0",))
    assert rating_of(cable("unsheathed single", "1.5", "C")) == (None, "", ("rating of unsheathed single 1.5",))
    assert rating_of(cable("unsheathed single", "1.5", "101")) == (None, "", ("rating of unsheathed single 1.5",))
    assert rating_of(cable("unsheathed single", "1.5")) == (None, "", ("installation method of W1",))
    assert rating_of(cable("twin and earth", "1.0", "B")) == (None, "", ("rating of twin and earth 1.0",))
    assert rating_of(replace(cable("twin and earth", "1.0", "C"), size=None)) == (None, "", ("size of W1",))


# BS 7671 Table 4D5 (1.0 and 1.5 secondary, 2.5 from memory): mV/A/m; check 2 x R20 x 1.20 (worked).
@pytest.mark.parametrize(("size", "published", "worked"), [
    ("1.0", 44, "43.44"), ("1.5", 29, "29.04"), ("2.5", 18, "17.784")])
def test_volt_drop_of_flat_cable(size, published, worked):
    assert drop_per_metre(read_size(size), flex=False) * 2 == published
    assert 2 * milliohm_per_metre(read_size(size), flex=False) * tables.HOT == F(worked)
    assert abs(F(worked) - published) < F("0.6")


# BS 7671 Tables 41.2 and 41.3 (secondary; fuses worked from the currents, BS 88-3 from memory): Ia, Zs, 80 per cent.
@pytest.mark.parametrize(("kind", "amps", "ia", "zs", "eighty"), [
    ("B", 3, 15, "14.57", "11.65"), ("B", 6, 30, "7.28", "5.82"), ("B", 10, 50, "4.37", "3.49"),
    ("B", 16, 80, "2.73", "2.18"), ("C", 6, 60, "3.64", "2.91"), ("C", 10, 100, "2.19", "1.75"),
    ("C", 16, 160, "1.37", "1.09"), ("BS 3036", 5, 24, "9.10", "7.28"), ("BS 3036", 15, 90, "2.43", "1.94"),
    ("BS 1361", 5, 22, "9.93", "7.94"), ("BS 1361", 15, 70, "3.12", "2.49"), ("BS 88-3", 5, 22, "9.93", "7.94"),
    ("BS 88-3", 16, 95, "2.30", "1.84")])
def test_zs_limits(kind, amps, ia, zs, eighty):
    device = Device(kind, F(amps))
    limit = limit_of(Way("way 1", "1", device=device), Board(earthing="TN-S"))
    assert trip_amps(device) == ia
    assert (limit.table, limit.measured) == (F(zs), F(eighty))


@pytest.mark.parametrize(("kind", "rule"), [("B", "43.7"), ("C", "21.85"), ("D", "10.925")])
def test_zs_rule_of_circuit_breakers(kind, rule):
    # 230 V x 0.95 / (5, 10 or 20 times the rating), from the Cmin of 2015 on (worked)
    for rating in (3, 6, 10, 16, 20, 32):
        assert F(230) * tables.CMIN / trip_amps(Device(kind, F(rating))) == F(rule) / rating


def test_zs_of_devices_without_a_figure_and_of_tt():
    assert limit_of(Way("way 1", "1", device=Device("BS 3036", F(30))), Board()) is None
    assert limit_of(Way("way 1", "1"), Board()) is None
    # TT: 50 V / 30 mA = 1667 ohm, BS 7671 Table 41.5 (secondary)
    assert limit_of(Way("way 1", "1", rcd=F(30)), Board(earthing="TT")).table == 1667
    # without an RCD the device has to open by itself
    assert limit_of(Way("way 1", "1", device=Device("B", F(6))), Board(earthing="TT")).table == F("7.28")


# Worked by hand from the figures above.
@pytest.mark.parametrize(
    ("size", "metres", "wanted"), [("1.5", "25", 0.755), ("1.0", "30", 1.086), ("2.5", "22", 0.429)])
def test_r1_r2_of_a_run(size, metres, wanted):
    (point,) = reckoned(run(size, metres)).points
    assert point.r1_r2 == pytest.approx(wanted, abs=0.0005)
    assert point.rn_r2 == pytest.approx(wanted, abs=0.0005)
    assert (str(point.line), str(point.neutral), point.setting) == ("Light L", "Light N", ())


def test_zs_of_a_run():
    (point,) = reckoned(run("1.5", "25")).points
    assert point.zs == pytest.approx(0.35 + 0.755)
    assert point.zs_hot == pytest.approx(0.35 + 0.755 * 1.2)


@pytest.mark.parametrize(("size", "amps", "metres", "volts", "good"), [
    ("1.5", 3, "20", 1.74, True), ("1.0", 5, "30", 6.60, True), ("1.0", 5, "32", 7.04, False)])
def test_volt_drop_of_a_run(size, amps, metres, volts, good):
    (drop,) = reckoned(run(size, metres, watts=230 * amps)).drops
    assert drop.volts == pytest.approx(volts, abs=0.001)
    assert drop.limit == F("6.9")  # 3 per cent of 230 V, BS 7671 Table 4Ab (secondary)
    assert (drop.volts <= drop.limit) == good


@pytest.mark.parametrize(("size", "longest"), [("1.0", "26.1"), ("1.5", "39.6"), ("2.5", "63.8")])
def test_greatest_length_at_6_ampere(size, longest):
    for metres, good in ((F(longest), True), (F(longest) + F("0.1"), False)):
        (drop,) = reckoned(run(size, str(float(metres)), watts=230 * 6)).drops
        assert (drop.volts <= drop.limit) == good


def test_a_rewireable_fuse_takes_a_quarter_off_the_cable():
    # 0.725, BS 7671 433.1.202 (secondary; the clause from memory)
    wiring = run("1.0", "10", method="C")
    wiring = replace(wiring, board=replace(wiring.board, ways=(
        replace(wiring.board.ways[0], device=Device("BS 3036", F(5))),)))
    assert reckoned(wiring).cables[0].rating == F("11.6")
    assert reckoned(run("1.0", "10", method="C")).cables[0].rating == 16


def test_twelve_points_of_100_watt():
    # 12 x 100 W at 230 V = 5.22 A, the usual "12 points on 6 A"; 100 W is 0.435 A (worked); 100 W for each lampholder,
    # On-Site Guide Table A1 (secondary)
    c = Circuit()
    c.way()
    for i in range(12):
        c.put(f"Light {i}", "batten lampholder")
        c.twin("way 1", f"Light {i}", ("L", "L"), ("N", "N"))
    (way,) = reckoned(c.wiring()).ways
    assert (way.watts, way.amps) == (96, F(96, 230))
    assert float(way.assumed_amps) == pytest.approx(5.22, abs=0.005)
    assert float(F(100, 230)) == pytest.approx(0.435, abs=0.0005)


def test_a_core_of_cpc_size_is_used_for_the_cpc_only():
    core = Core("W1", 3, "", (CoreEnd("A", "E"), CoreEnd("B", "E")), cpc=True)
    measured = replace(cable("twin and earth", "1.5"), cpc_size=read_size("1.0"), length=F(10), cores=(core,))
    assert ohms(measured, core) == F("0.181")
    assert ohms(measured, replace(core, cpc=False)) == F("0.121")
