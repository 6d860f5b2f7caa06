"""A hazard, its controls, and the scale its risk is told on. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

State = Literal["open", "reduced", "closed"]
STATES: Final[tuple[State, ...]] = ("open", "reduced", "closed")
STATE_MEANS: Final = {
    "open": "a control is missing, or nobody has shown on a real ward that it is enough",
    "reduced": "its controls stand and are tested; the hospital has to accept what is left",
    "closed": "it cannot happen any more; kept so that it is not forgotten",
}
OWNERS: Final = (
    "charge nurse", "prescriber", "pharmacist", "educator", "hospital IT", "maker",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Control:
    """One thing that stands against a hazard: rules, a place in the code, or a procedure.

    by: who follows a procedure. tests: ids of tests that fail when the control is taken away.
    """

    does: str
    rules: tuple[str, ...] = ()
    place: str = ""
    by: str = ""
    tests: tuple[str, ...] = ()

    @property
    def is_procedure(self) -> bool:
        """Whether people do it, so that no test of ours can show it."""
        return bool(self.by)


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a scale, as people read it."""

    step: int
    word: str
    means: str


@dataclass(frozen=True, slots=True)
class Scale:
    """Severity by likelihood; bands: from which product on a risk is called what."""

    says: str
    severity: tuple[Step, ...]
    likelihood: tuple[Step, ...]
    bands: tuple[Step, ...]

    def band(self, risk: int) -> str:
        """What a risk is called."""
        return [band.word for band in self.bands if band.step <= risk][-1]


@dataclass(frozen=True, slots=True)
class Hazard:
    """One hazard. before, after: likelihood without and with its controls, as steps of the scale.

    residual: what is left although the controls stand.
    """

    id: str
    title: str
    cause: str
    harm: str
    severity: int
    before: int
    after: int
    owner: str
    state: State
    residual: str
    controls: tuple[Control, ...]

    @property
    def risk_before(self) -> int:
        """Severity times likelihood without the controls."""
        return self.severity * self.before

    @property
    def risk_after(self) -> int:
        """Severity times likelihood with the controls."""
        return self.severity * self.after

    def rules(self) -> Iterator[str]:
        """Ids of every rule that stands against it."""
        for control in self.controls:
            yield from control.rules

    def tests(self) -> Iterator[str]:
        """Ids of every test that proves a control."""
        for control in self.controls:
            yield from control.tests


@dataclass(frozen=True, slots=True)
class HazardLog:
    """Every hazard, in the order of the file, and the scale."""

    scale: Scale
    hazards: tuple[Hazard, ...]

    def get(self, hazard_id: str) -> Hazard | None:
        """One hazard by its id."""
        return next((hazard for hazard in self.hazards if hazard.id == hazard_id), None)

    def known_open(self) -> tuple[Hazard, ...]:
        """Those that are open, highest risk first."""
        found = [hazard for hazard in self.hazards if hazard.state == "open"]
        return tuple(sorted(found, key=lambda hazard: -hazard.risk_after))
