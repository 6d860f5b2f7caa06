"""What one litre of an ordered bag holds once its additives are in."""

from collections.abc import Iterable

from app.catalogue.fluid import ML_PER_L, Fluid
from app.chemistry.composition import Composition
from app.chemistry.mixing import added, scaled
from app.patient.order import AdditiveDose


def mixture(
    fluid: Fluid, additives: Iterable[AdditiveDose], volume_ml: float | None
) -> Composition | None:
    """Composition per litre with additives; None when an additive cannot be spread or read.
    A drug brings nothing that is counted here.

    volume_ml: the order's whole volume, which the additive totals are for. The volume that an
    additive itself brings is taken as part of it, as premixed labels do.
    """
    total = fluid.composition
    for additive in additives:
        if additive.unread:
            return None
        if additive.added == Composition():
            continue
        if additive.per_litre:
            total = added(total, additive.added)
        elif volume_ml is None:
            return None
        else:
            total = added(total, scaled(additive.added, ML_PER_L / volume_ml))
    return total
