"""The list of lumens, and which are to be looked at first."""

from datetime import UTC, datetime, timedelta

from app.patient.access import Lumen
from app.patient.lumen_told import LumenTold
from app.web.lines.lumens import NOBODY, lumen_views, unconfirmed

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
TWO = (Lumen("left hand", "peripheral"), Lumen("neck, distal", "central", "nutrition"))


def test_site_size_and_what_it_is_kept_for_are_said() -> None:
    sized = LumenTold("left hand", "works", NOW, size="20 G")
    left, neck = lumen_views(TWO, {"left hand": sized}, NOW)
    assert (left.where, neck.where) == ("peripheral, 20 G", "central, kept for nutrition")
    assert (neck.told, neck.stale, neck.told_now) == (NOBODY, True, False)


def test_one_that_was_placed_is_confirmed_for_twelve_hours() -> None:
    placed = LumenTold("left hand", "placed", NOW - timedelta(hours=12), "A. Nurse", "22 G")
    (left, _) = lumen_views(TWO, {"left hand": placed}, NOW)
    assert (left.told, left.stale) == ("placed, told Mon 3 Mar 19:05 by A. Nurse", False)
    (left, _) = lumen_views(TWO, {"left hand": placed}, NOW + timedelta(minutes=1))
    assert left.stale
    assert left.told.endswith("more than 12 h ago")


def test_those_nobody_confirmed_are_to_be_looked_at_and_failed_ones_are_not() -> None:
    def said(**states: str) -> str:
        told = {name: LumenTold(name, state, NOW) for name, state in states.items()}  # type: ignore[arg-type]
        stands = {"left hand": told.get("left"), "neck, distal": told.get("neck")}
        return unconfirmed(lumen_views(TWO, {k: v for k, v in stands.items() if v}, NOW))

    assert said() == "Look at both lumens first: nobody has confirmed them in the last 12 h."
    assert said(left="works") == (
        "Look at neck, distal first: nobody has confirmed it in the last 12 h."
    )
    assert said(left="failed") == (
        "Look at neck, distal first: nobody has confirmed it in the last 12 h."
    )
    assert said(left="works", neck="works") == ""
