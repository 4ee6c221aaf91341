"""Collects what is in doubt as questions, and gives the answers that are known already."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tuner.exchange.mapping import LEAVE_OUT, ImportQuestion


class Asker:
    """Doubts of one reading of a file.

    Parameters
    ----------
    answers
        Answers known from before, by code.
    """

    def __init__(self, answers: Mapping[str, str]) -> None:
        self._answers = dict(answers)
        self.questions: list[ImportQuestion] = []
        self.remarks: list[str] = []

    def ask(
        self, code: str, text: str, choices: Sequence[str], *, columns: Sequence[int] = (), free: bool = False
    ) -> str | None:
        """The answer to a question, None while there is none; the question is kept either way.

        Parameters
        ----------
        code
            Stable name of the doubt.
        text
            The question in words.
        choices
            The most likely first; `leave it out` is always among them.
        columns
            Columns it is about.
        free
            Whether any other answer may be given.
        """
        offered = tuple(dict.fromkeys([*choices, LEAVE_OUT]))
        if all(question.code != code for question in self.questions):
            self.questions.append(ImportQuestion(code=code, text=text, choices=offered, free=free, columns=tuple(columns)))
        answer = self._answers.get(code)
        return answer if answer is not None and (free or answer in offered) else None

    def note(self, remark: str) -> None:
        """Keep what was decided without asking and is worth a look."""
        if remark not in self.remarks:
            self.remarks.append(remark)

    def kept_answers(self) -> dict[str, str]:
        """Answers to the questions that came up, and all others, which may come up with another file of the layout."""
        return dict(self._answers)


def listed(values: Sequence[str], most: int = 4) -> str:
    """The first few of some values, for a question."""
    distinct = list(dict.fromkeys(value.replace("\n", " ") for value in values))
    shown = ", ".join(value if len(value) <= 40 else value[:37] + "..." for value in distinct[:most])
    return shown + (", ..." if len(distinct) > most else "")
