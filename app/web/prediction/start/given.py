"""What is given, in words: each bag with its pace, what follows, and where to check it."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Final
from urllib.parse import urlencode

from app.web.prediction.asked import MINUTES_PER_HOUR, Asked, Bag
from app.web.show import amount, capital, duration, number

ML_PER_L: Final = 1000.0


@dataclass(frozen=True, slots=True)
class Given:
    """One bag in words, what it brings, and the address that checks it as an order."""

    mark: str
    words: str
    pace: str
    check: str
    fluid: str = ""


def given_of(bag: Bag, asked: Asked) -> Given:
    """One of the bags that are tried."""
    return Given(
        mark=bag.mark,
        words=bag.called,
        pace=_pace_words(bag, asked.volume_ml or 0.0, asked.minutes or 0.0),
        check=_check(bag, asked),
        fluid=bag.fluid.name,
    )


def then_words(asked: Asked) -> str:
    """What follows; empty for nothing."""
    if asked.then is None:
        return ""
    then = asked.then
    return f"{capital(then.bag.called)}, {_pace_words(then.bag, then.volume_ml, then.minutes)}"


def _pace_words(bag: Bag, volume_ml: float, minutes: float) -> str:
    """How much over how long, and the potassium that brings each hour."""
    rate_ml_h = volume_ml / minutes * MINUTES_PER_HOUR
    takes = duration(timedelta(minutes=round(minutes)))
    potassium = bag.mix(volume_ml).potassium_mmol_l * rate_ml_h / ML_PER_L
    brings = f"; potassium {number(potassium)} mmol/h" if potassium else ""
    return f"{amount(volume_ml, 'mL')} over {takes}, {amount(rate_ml_h, 'mL/h')}{brings}"


def _check(bag: Bag, asked: Asked) -> str:
    """The order page with this bag written in it."""
    pairs = [
        ("patient", asked.patient), ("fluid", bag.fluid.name),
        ("volume", f"{asked.volume_ml:.6g}"), ("rate", f"{asked.rate_ml_h:.6g}"),
    ]  # fmt: skip
    if bag.potassium_mmol:
        pairs += [("additive", "potassium chloride"), ("amount", f"{bag.potassium_mmol:g}")]
        pairs += [("unit", "mmol")]
    return f"/orders/new?{urlencode([(name, text) for name, text in pairs if text])}"
