"""The screens: one page a file, each reads input, calls one use case and shows the result."""

from tuner.screens.door import apologise as sorry
from tuner.screens.shell import show_screens

__all__ = ["show_screens", "sorry"]
