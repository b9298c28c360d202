"""What the chemistry raises."""


class OutOfRange(ValueError):  # noqa: N818 - it names the condition, as IndexError's kin do not
    """An argument lies outside the range in which a model holds.

    Attributes:
        quantity: name of the argument.
        value: what was asked [SI].
        low: lower end of the valid range [SI].
        high: upper end of the valid range [SI].
        reason: why the range ends there.
    """

    def __init__(self, quantity: str, value: float, low: float, high: float, reason: str) -> None:
        super().__init__(f"{quantity} = {value:g} is outside {low:g} to {high:g}: {reason}")
        self.quantity = quantity
        self.value = value
        self.low = low
        self.high = high
        self.reason = reason
