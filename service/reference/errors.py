"""What the loader of the reference data raises."""


class ReferenceDataError(ValueError):
    """A data file holds something that cannot be used.

    Attributes:
        file: name of the file.
        row: line of the file, counted from 1; None where the fault belongs to the file as a whole.
        reason: what is wrong, in words.
    """

    def __init__(self, file: str, row: int | None, reason: str) -> None:
        super().__init__(f"{file}{'' if row is None else f', row {row}'}: {reason}")
        self.file = file
        self.row = row
        self.reason = reason
