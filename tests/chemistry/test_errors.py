"""What the chemistry raises tells by itself what was asked, and what could have been."""

from service.chemistry.errors import OutOfRange


def test_what_is_refused_says_so_in_words_too() -> None:
    """Where nobody catches it, the last line of the trace is all that is known."""
    said = str(OutOfRange("temperature", 151.5, 0.0, 150.0, "the data end there"))
    assert said.startswith("temperature = 151.5 is outside 0 to 150")
    assert said.endswith("the data end there")
