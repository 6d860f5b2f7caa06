"""Millimoles to milliequivalents and to milligrams and back, always by substance."""

from app.chemistry.errors import UnitError
from app.chemistry.salts import MG_PER_G, SALT_BY_KEY, salt_mg_from_mmol, salt_mmol_from_g
from app.chemistry.substances import ION_BY_KEY, Substance


def meq_from_mmol(key: str, mmol: float) -> float:
    """Milliequivalents in so many mmol of an ion: mmol times its charge.

    Raises UnitError for phosphate, whose charge changes with pH, and for what is no ion.
    """
    return mmol * _charges(_ion(key))


def mmol_from_meq(key: str, meq: float) -> float:
    """Mmol in so many mEq of an ion: mEq divided by its charge (calcium: half).

    Raises UnitError for phosphate, whose charge changes with pH, and for what is no ion.
    """
    return meq / _charges(_ion(key))


def mg_from_mmol(key: str, mmol: float) -> float:
    """Milligrams of so many mmol of an ion ("calcium") or salt ("calcium_gluconate").

    The key says which: a gram of calcium gluconate is not a gram of calcium. Raises UnitError.
    """
    if key in SALT_BY_KEY:
        return salt_mg_from_mmol(key, mmol)
    return mmol * _ion(key).molar_mass_g_mol


def mmol_from_mg(key: str, mg: float) -> float:
    """Mmol in so many mg of an ion ("calcium") or salt ("calcium_gluconate"). Raises UnitError."""
    if key in SALT_BY_KEY:
        return salt_mmol_from_g(key, mg / MG_PER_G)
    return mg / _ion(key).molar_mass_g_mol


def salt_mmol_from_meq(salt_key: str, meq: float) -> float:
    """Mmol of a salt ordered in mEq, which means the mEq of the ion it is given for.

    10 mEq of calcium gluconate is 5 mmol. Raises UnitError for phosphates (order mmol of
    phosphate) and for what is no salt.
    """
    found = SALT_BY_KEY.get(salt_key)
    if found is None or not found.ions:
        raise UnitError("mEq", salt_key, "a salt")
    ion_key, count = found.ions[0]
    return mmol_from_meq(ion_key, meq) / count


def _ion(key: str) -> Substance:
    if key not in ION_BY_KEY:
        raise UnitError("ion", key, ", ".join(ION_BY_KEY))
    return ION_BY_KEY[key]


def _charges(ion: Substance) -> int:
    if ion.charge is None:
        raise UnitError(
            ion.name, "mEq", "mmol only: phosphate has no fixed charge, so no fixed equivalent"
        )
    return abs(ion.charge)
