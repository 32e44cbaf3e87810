"""yarnchat: how much yarn to buy when the yarn of a pattern is swapped, with the working."""

from __future__ import annotations

TYPE_CHECKING = False
"""As in typing, which takes a tenth of the time of ``--version`` to load."""
if TYPE_CHECKING:
    from yarnchat.answers import Amount, Answer, Finding, Part, Ratio, RatioRow
    from yarnchat.assistant import Assistant

__version__ = "1.0.0"
__all__ = ["Amount", "Answer", "Assistant", "Finding", "Part", "Ratio", "RatioRow", "__version__"]


def __getattr__(name: str) -> object:
    """``Assistant`` and what it answers with, loaded on first use: ``--version`` need not wait for the engine."""
    if name == "Assistant":
        from yarnchat.assistant import Assistant

        return Assistant
    if name in __all__:
        from yarnchat import answers

        return getattr(answers, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
