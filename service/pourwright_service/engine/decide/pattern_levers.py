"""What can be changed to mend a pattern."""

from .remedies import Levers, Slide

PATTERN = Levers(
    levers=(
        Slide(
            checks=("pattern-draft-enough",),
            at="/draft_degrees",
            kind="ratio",
            step=0.1,
            up=True,
            most=10.0,
            words="Give it a draft of {new} degrees instead of {old}.",
        ),
        Slide(
            checks=("pattern-machining-enough",),
            at="/machining",
            kind="length",
            step=1e-4,
            up=True,
            most=0.05,
            words="Leave {new} on each machined face instead of {old}.",
        ),
        Slide(
            checks=("pattern-tolerance-kept",),
            at="/tolerance",
            kind="length",
            step=1e-4,
            up=True,
            most=0.1,
            words="Ask for no finer than {new} (it is {old}), and machine what must fit.",
        ),
    ),
)
