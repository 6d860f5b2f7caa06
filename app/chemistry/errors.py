"""What is said when a quantity cannot be read."""


class UnitError(ValueError):
    """A quantity that cannot be converted: of what, what was given, what is accepted."""

    def __init__(self, what: str, given: object, accepted: str) -> None:
        super().__init__(what, given, accepted)
        self.what = what
        self.given = given
        self.accepted = accepted

    def __str__(self) -> str:
        return f"{self.what}: {self.given} is not accepted; accepted: {self.accepted}"
