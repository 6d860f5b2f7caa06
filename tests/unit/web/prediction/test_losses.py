"""What is lost with its salt, and what is said of what is not counted."""

from datetime import UTC, datetime
from types import MappingProxyType

from app.catalogue.catalogue import Catalogue
from app.patient.case import Case
from app.patient.observation import Observation
from app.patient.snapshot import Snapshot
from app.physiology.course.loads import Loss
from app.review.running.loads import Running
from app.web.prediction.asked import Asked, Bag
from app.web.prediction.losses import losses_of, losses_words, urine_salt_known
from app.web.prediction.person import Person, person_of


def asked(**values: float) -> Asked:
    return Asked(values=MappingProxyType({"weight": 70.0, **values}))


def words(one: Asked, beside: Running | None = None) -> str:
    return losses_words(one, person_of(one, None), beside or Running())


def test_each_loss_is_one_of_its_kind_with_the_salt_that_was_typed() -> None:
    one = asked(urine=80, urine_sodium=20, urine_potassium=10, gastric=50, blood=0, insensible=30)
    assert losses_of(one, person_of(one, None)) == (
        Loss("urine", 80, 20, 10), Loss("gastric", 50), Loss("insensible", 30)
    )  # fmt: skip


def test_urine_not_told_is_not_a_loss_and_is_said() -> None:
    assert losses_of(asked(), person_of(asked(), None)) == ()
    assert "Urine is not counted" in words(asked())
    assert "counts once its mL/h are typed" in words(asked(urine_sodium=20))


def test_losses_besides_are_named() -> None:
    assert "Lost besides: gastric 50 mL/h, insensible 30 mL/h." in words(
        asked(gastric=50, insensible=30)
    )


def test_full_urine_with_nothing_beside_it_says_that_drinking_is_not_counted() -> None:
    said = words(asked(urine=150))
    assert "with sodium 100 and potassium 40 mmol/L, as is usual" in said
    assert said.endswith("volumes fall less than is shown.")
    assert "Drinking" not in words(asked(urine=20))


def test_beside_what_runs_only_drinking_is_lacking(catalogue: Catalogue) -> None:
    fluid = catalogue.get("glucose-5")
    assert fluid is not None
    beside = Running((Bag("", fluid, 0).load(1000, 600),), ("5% glucose",))
    assert words(asked(urine=150), beside).endswith("Drinking is not counted.")


def test_no_urine_at_all_says_what_that_means_for_potassium() -> None:
    assert words(asked(urine=0)) == (
        "No urine: nothing is passed. Potassium may rise more than shown."
    )


def recorded(sodium: float, **urine: float) -> Person:
    now = datetime(2031, 3, 4, 7, tzinfo=UTC)
    results = {name: (Observation(name, value, "mmol/L", now),) for name, value in urine.items()}
    patient = Snapshot(now=now, weight_kg=70, results=results, urine_ml_h=130)
    return Person(weight_kg=70, results=MappingProxyType({"sodium": sodium}), case=Case(patient))


def test_urine_on_record_counts_where_sodium_is_off() -> None:
    assert losses_of(asked(), recorded(123)) == (Loss("urine", 130),)
    assert losses_of(asked(), recorded(140)) == ()


def test_what_urine_was_measured_to_hold_counts() -> None:
    whom = recorded(123, urine_sodium=25, urine_potassium=12)
    assert losses_of(asked(), whom) == (Loss("urine", 130, 25, 12),)
    assert urine_salt_known(asked(), whom)
    assert not urine_salt_known(asked(), recorded(123))
    assert "with sodium 25 mmol/L and potassium 12 mmol/L" in losses_words(asked(), whom, Running())
