"""The lumens that a plan may use: from what is recorded of a patient's access. Pure."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from app.cautions.phrases import opening
from app.cautions.shared.veins import site_of
from app.lines.model import Lumen, Role
from app.patient import access
from app.patient.case import Case
from app.patient.lumen_told import LumenTold, with_placed
from app.patient.snapshot import Snapshot

ROLES: Final[tuple[tuple[re.Pattern[str], Role], ...]] = (
    (re.compile(r"nutrition|\btpn\b|\bpn\b"), "nutrition"),
    (re.compile(r"vaso|pressor|inotrop"), "vasoactive"),
    (re.compile(r"monitor|pressure|\bcvp\b|arterial"), "monitoring"),
)
FAILED: Final = " has failed."
# Nothing of a plan goes there, whoever wrote it among the lumens.
NO_VEIN: Final = re.compile(
    r"arter|\ba[- ]line\b|dialysis|epidural|intrathecal|spinal|gastric|subcutaneous"
)


@dataclass(frozen=True, slots=True)
class Access:
    """What a plan may use. notes: what was taken for granted; left_out: what is not used, why."""

    lumens: tuple[Lumen, ...] = ()
    notes: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()

    @property
    def not_used(self) -> tuple[str, ...]:
        """What is left out for another reason than that it failed."""
        return tuple(why for why in self.left_out if not why.endswith(FAILED))


def with_told(case: Case, stands: Mapping[str, LumenTold]) -> Case:
    """The case with the lumens that people told were placed since its access was recorded."""
    access = with_placed(case.patient.access, stands)
    return replace(case, patient=replace(case.patient, access=access))


def access_of(patient: Snapshot, failed: frozenset[str] = frozenset()) -> Access:
    """The lumens of a patient but for those that failed.

    One kept for something we do not know is not used; one whose site is not told counts as
    peripheral, which is the stricter.
    """
    read = [_read(one, patient, failed) for one in patient.access]
    return Access(
        tuple(lumen for lumen, _, _ in read if lumen is not None),
        tuple(note for _, note, _ in read if note),
        tuple(why for _, _, why in read if why),
    )


def _read(
    one: access.Lumen, patient: Snapshot, failed: frozenset[str]
) -> tuple[Lumen | None, str, str]:
    """The lumen, a note, and why it is left out."""
    if one.id in failed:
        return None, "", f"{opening(one.id)}{FAILED}"
    if NO_VEIN.search(one.id.lower()):
        return None, "", f"{opening(one.id)} is not a vein to infuse by and is not used."
    roles = list(_roles(one.role))
    if one.role and not roles:
        return None, "", f"{opening(one.id)} is kept for “{one.role}” and is not used."
    site = site_of(patient, one.id)
    note = "" if site else f"Whether {one.id} is central is not told: it counts as peripheral."
    return Lumen(one.id, site or "peripheral", roles[0] if roles else ""), note, ""


def _roles(words: str) -> Iterator[Role]:
    yield from (role for pattern, role in ROLES if pattern.search(words.lower()))
