"""The errors a person may meet.

::

    TunerError                  anything the tool says no to; the message is written for a person
    ├── InvalidDocument         something from outside that is not a legal brief, oven, program or cook
    ├── NoLegalProgram          no step of the oven lies inside what the brief allows
    ├── NotAllowed              a rule of safety or of separated duties forbids the action
    ├── NotFound                nothing kept under that id (or not for this customer)
    ├── Conflict                the same id with other content, or somebody else was faster
    ├── NeedsConfirmation       legal but unlikely values: say yes once, and it is kept as confirmed
    └── StoreProblem            the store can't be read or written now

Every message names what is wrong (field and value), the rule, and what to do.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tuner.domain.plausibility import Question


class TunerError(Exception):
    """Base of all errors whose message may be shown to a person as it is."""


class InvalidDocument(TunerError, ValueError):
    """A document from outside breaks a rule.

    Parameters
    ----------
    problems
        One sentence each: field and value, rule, what to do.
    """

    def __init__(self, problems: Sequence[str]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(self.problems))


class NoLegalProgram(TunerError, ValueError):
    """No program can be set on the oven that keeps to the brief's duration window."""


class NotAllowed(TunerError):
    """A safety rule or a separation of duties forbids the action."""


class NotFound(TunerError, LookupError):
    """Nothing is kept under the given id."""


class Conflict(TunerError):
    """The same id came with other content, or what was edited has changed since."""


class StoreProblem(TunerError):
    """The store can't be read or written now; nothing was half written."""


class NeedsConfirmation(TunerError):
    """Values that are possible but unlikely and were not confirmed yet.

    Parameters
    ----------
    questions
        What to ask; sending the same document again with their codes in `confirmed` accepts it.
    """

    def __init__(self, questions: Sequence[Question]) -> None:
        self.questions = tuple(questions)
        super().__init__("\n".join(question.text for question in self.questions))
