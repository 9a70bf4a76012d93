"""What the stores refuse."""


class StoresError(ValueError):
    """A movement that the stores refuse, in one sentence that says what to do.

    Parameters
    ----------
    field : str
        The name of what has to be altered.
    message : str
        The whole sentence.
    """

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        super().__init__(message)
