"""The bicarbonate that a fluid's buffers become once they are used."""

from app.chemistry.composition import PHOSPHATE_CHARGE_AT_PH_7_4, Composition


def bicarbonate_equivalents_mmol(
    composition: Composition, volume_l: float, *, gluconate_used: float = 1.0
) -> float | None:
    """Bicarbonate that volume_l brings or leaves once its buffers are used, mmol.

    Strong ion difference less the charges that stay: colloid, phosphate, and the share of
    gluconate that leaves unused (gluconate_used 0 to 1; much is excreted unchanged, weak evidence,
    from memory). None where chloride is not on the label.
    """
    strong_ion_difference = composition.strong_ion_difference_meq_l
    if strong_ion_difference is None:
        return None
    staying_meq_l = (
        composition.gluconate_mmol_l * (1 - gluconate_used)
        - composition.phosphate_mmol_l * PHOSPHATE_CHARGE_AT_PH_7_4
        - composition.colloid_charge_meq_l
    )
    return volume_l * (strong_ion_difference - staying_meq_l)
