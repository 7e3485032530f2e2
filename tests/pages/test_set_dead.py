"""Dead tests are made in settings that hands can make: nothing is triggered with the way off. Common practice."""

from __future__ import annotations

from pages.jobs import job_of, says, tables, words

from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import wiring_of

SENSOR = b"""job: Yard
board:
  earthing: TN-S
  ways:
    1: {serves: Yard, device: type B 6 A, rcd: 30 mA}
colours: current
accessories:
  Eye: {kind: sensor}
  Light: {kind: light fitting, class: II, lamp: 8 W}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Eye, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Eye, to: Light, cores: {BN: [SL, L], BU: [N, N], cpc: [E, E]}}
"""


def insulation(text: bytes) -> tuple[list[str], str]:
    (page,) = job_to_pages(job_of(wiring_of(text)), ("tests",))
    (table,) = [t for t in tables(page) if t.head[0] == "Switches at"]
    return [words(row[0]) for row in table.rows], says(page)


def test_what_a_sensor_joins_is_linked_for_the_test_and_the_link_taken_out():
    settings, text = insulation(SENSOR)
    assert settings == ["link L and SL at Eye"] and "triggered" not in "".join(settings)
    assert "Links: take every one out again before the circuit is switched on." in text


def test_where_no_hand_can_reach_the_contact_nothing_is_asked_of_it():
    fan = SENSOR.replace(b"kind: sensor", b"kind: sensor floodlight, lamp: 8 W").split(b"  Light:")[0] + b"""cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Eye, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
"""
    settings, text = insulation(fan)
    assert settings == ["no switch to set"] and "Links:" not in text and "link" not in text


DIMMER = b"""job: Lounge
board:
  earthing: TN-S
  ways:
    1: {serves: Lounge, device: type B 6 A, rcd: 30 mA}
colours: current
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Dim: {kind: dimmer, labels: {load: out}}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Dim, cores: {BN: [loop, L], BU: [SL, out], cpc: [E, E]}, sleeved: [BU]}
"""


def test_a_dimmer_that_is_taken_off_for_the_test_joins_nothing_so_its_terminals_are_linked():
    settings, text = insulation(DIMMER)
    assert settings == ["link L and out at Dim"] and "Dim (dimmer) disconnected" in text
    (page,) = job_to_pages(job_of(wiring_of(DIMMER)), ("tests",))
    (points,) = [t for t in tables(page) if t.head[0] == "Point"]
    assert [words(row[3]) for row in points.rows if words(row[0]) == "Rose"] == ["link L and out at Dim"]
    assert ("Links: take every one out again before the circuit is switched on. Measure Zs at Rose with Dim on "
            "and no link, or work it out as Ze + R1+R2.") in text


def test_a_plain_switch_is_set_and_not_linked():
    settings, text = insulation(DIMMER.replace(b"dimmer, labels: {load: out}", b"one-way switch").replace(
        b"[loop, L]", b"[loop, COM]").replace(b"[SL, out]", b"[SL, L1]"))
    assert settings == ["Dim on"] and "Links:" not in text


def test_a_two_way_dimmer_is_linked_as_it_stands():
    settings, _ = insulation(DIMMER.replace(b"dimmer, labels: {load: out}", b"dimmer, switching: two-way").replace(
        b"[loop, L]", b"[loop, COM]").replace(b"[SL, out]", b"[SL, L2]"))
    assert settings == ["link COM and L2 at Dim"]
