"""What cannot be read at all: the field, the value, what is accepted."""

from dataclasses import dataclass

# Not frozen: Python itself sets an exception's traceback as it passes a context manager.


@dataclass(unsafe_hash=True)
class InputError(Exception):
    """One field that cannot be read.

    field: its path ("orders[0].rate_ml_h"). value: as received. accepted: in words.
    """

    field: str
    value: object
    accepted: str

    def __str__(self) -> str:
        return f"{self.field}: {self.value!r} is not accepted; accepted: {self.accepted}"


@dataclass(unsafe_hash=True)
class InputErrors(Exception):
    """Several fields that cannot be read, in the order they were met."""

    errors: tuple[InputError, ...]

    def __str__(self) -> str:
        return "; ".join(map(str, self.errors))
