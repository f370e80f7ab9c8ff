"""What is said of a text that is no quantity."""


class NotAQuantity(ValueError):  # noqa: N818  # reads as the sentence that it is
    """A text that cannot be read as the quantity expected of it."""

    def __init__(self, reason: str, units: tuple[str, ...] = (), nearest: str | None = None) -> None:
        super().__init__(reason)
        self.reason = reason
        """A sentence for a person, without a full stop."""
        self.units = units
        """The notations that would do, those that a tradesperson writes first."""
        self.nearest = nearest
        """The right notation nearest to what was written, where there is one."""
