"""Acts by the names they are recorded under. A name is never changed: old rows keep theirs."""

from typing import Final

TOLD_STOCK: Final = "told stock"
TOLD_LUMEN: Final = "told lumen"
SIGNED_NOTE: Final = "signed note"
WITHDREW_NOTE: Final = "withdrew note"
EXPORTED: Final = "exported trail"
SEALED_ANEW: Final = "sealed trail anew"
PURGED: Final = "purged"
