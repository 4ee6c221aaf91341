"""How a cook log is read: what each column holds, what is asked, and what was answered. A JSON document, so it can be kept."""

from __future__ import annotations

from typing import Any, Self

from pydantic import Field, ValidationError

from tuner.domain import Brief, InvalidDocument, Oven
from tuner.domain.model import Flag, Model, Number, Text, Whole
from tuner.domain.wording import problems_of
from tuner.exchange.fields import FIELDS

LEAVE_OUT = "leave it out"
"""The choice of every question that takes nothing from what it is about."""


class ImportQuestion(Model):
    """One doubt: a stable `code`, the question in words, and the choices, the most likely first.

    `free` questions take any answer besides the choices. `columns` are the columns it is about.
    """

    code: Text
    text: Text
    choices: tuple[Text, ...]
    free: Flag = False
    columns: tuple[Whole, ...] = ()


class ColumnUse(Model):
    """What one column holds.

    Attributes
    ----------
    column
        Its place in the table, counted from 0.
    heading
        What stands above it.
    part
        The part of the file it stands in (a sheet, or a table within one).
    field
        What it holds: a name of `fields.FIELDS`.
    number
        Stage, or place of the thermometer, or taster without a name; None where there is none.
    label
        Taster, place, or name of a further score.
    unit
        Unit of values written without one: °C, °F, g, oz, s, min, mm:ss, %, fraction, ...; None where it is in doubt.
    scale
        For scores: lowest and highest mark, as "1-5"; None where it is in doubt.
    order
        For stages in one cell: what its bare numbers are, in order; for days: "day/month/year" and the like, in one entry.
    samples
        The first cells that hold anything, for showing.
    why
        What it was told by, in words.
    by_person
        True where a person chose it; then it is not guessed again.
    """

    column: Whole = Field(ge=0)
    heading: Text
    part: Text = ""
    field: Text
    number: Whole | None = None
    label: Text | None = None
    unit: Text | None = None
    scale: Text | None = None
    order: tuple[Text, ...] | None = None
    samples: tuple[Text, ...] = ()
    why: Text = ""
    by_person: Flag = False

    @property
    def words(self) -> str:
        """What it holds, for a person: 'microwave of a stage 2'."""
        field = FIELDS.get(self.field)
        words = field.words if field else self.field
        return " ".join(str(part) for part in (words, self.number, self.label) if part not in (None, ""))


class Expected(Model):
    """What brief and oven let a log expect, as far as they help to read it."""

    dish: Text | None = None
    mass_g: Number | None = None
    start_temperature_c: Number | None = None
    places: Whole | None = None
    rest_s: Number | None = None
    oven_name: Text | None = None
    oven_serial: Text | None = None
    air_temperature_c: tuple[Number, Number] | None = None
    duration_s: tuple[Number, Number] | None = None
    air_speed_low_pct: Number | None = None
    share_step_pct: Number | None = None
    microwave_rated_w: Number | None = None
    air_speed_max_m_s: Number | None = None


class ColumnMapping(Model):
    """How a layout of cook logs is read.

    Attributes
    ----------
    layout
        Fingerprint of the headings; a mapping is remembered for it.
    file
        Fingerprint of the file, the answers and the choices it was made from; it tells whether anything came since.
    columns
        What each column holds, in order.
    questions
        What is asked, answered or not.
    answers
        Answers by the code of the question.
    decimal
        Decimal mark of numbers in text, None where in doubt.
    time_zone
        Zone of times written without one, None where in doubt or not needed.
    constants
        Values that hold for every row: field to text, told above the headings or answered.
    rows_by
        How rows belong to cooks: "cook_id" (rows with one number are one cook), "row" (each row is a cook) or "run" (rows
        below each other that agree in all but the tasters).
    only
        Columns whose rows count only with these values (a dish, an oven), as column number to value.
    parts
        Parts of the file whose rows are read; empty means all.
    expected
        What brief and oven let expect.
    remarks
        What was decided without asking and is worth a look.
    """

    layout: Text
    file: Text = ""
    columns: tuple[ColumnUse, ...]
    questions: tuple[ImportQuestion, ...] = ()
    answers: dict[Text, Text] = Field(default_factory=dict)
    decimal: Text | None = None
    time_zone: Text | None = None
    constants: dict[Text, Text] = Field(default_factory=dict)
    rows_by: Text = "row"
    only: dict[Text, Text] = Field(default_factory=dict)
    parts: tuple[Text, ...] = ()
    expected: Expected = Expected()
    remarks: tuple[Text, ...] = ()

    @property
    def open_questions(self) -> tuple[ImportQuestion, ...]:
        """Questions without an answer."""
        return tuple(question for question in self.questions if question.code not in self.answers)

    def answered(self, code: str, answer: str) -> Self:
        """The mapping with one question answered; `guess_mapping(..., remembered=it)` carries it out and may ask further.

        Raises
        ------
        InvalidDocument
            If there is no such question, or the answer is none of its choices.
        """
        question = next((known for known in self.questions if known.code == code), None)
        if question is None:
            asked = ", ".join(known.code for known in self.questions) or "none"
            raise InvalidDocument([f"question {code!r} is not asked. Asked are: {asked}. Answer one of these."])
        choice = _chosen(answer, question)
        return self._with(answers={**self.answers, code: choice})

    def changed(self, column: int, **settings: Any) -> Self:
        """The mapping with one column corrected by a person: `field`, `number`, `label`, `unit`, `scale` or `order`.

        Raises
        ------
        InvalidDocument
            If there is no such column or field, or a setting is not legal.
        """
        if not any(use.column == column for use in self.columns):
            raise InvalidDocument([f"column {column} is not in the file. Columns count from 0 to {len(self.columns) - 1}."])
        if settings.get("field", "ignore") not in FIELDS:
            raise InvalidDocument([f"field {settings['field']!r} is not known. Choose one of {', '.join(FIELDS)}."])
        columns = [
            {**use.model_dump(), **settings, "by_person": True} if use.column == column else use.model_dump()
            for use in self.columns
        ]
        return self._with(columns=columns)

    def _with(self, **changes: Any) -> Self:
        try:
            return type(self).model_validate({**self.model_dump(), **changes})
        except ValidationError as error:
            raise InvalidDocument(problems_of(error)) from error


def _chosen(answer: str, question: ImportQuestion) -> str:
    given = answer.strip()
    exact = next((choice for choice in question.choices if choice.lower() == given.lower()), None)
    if exact is not None:
        return exact
    if given.isdecimal() and 1 <= int(given) <= len(question.choices) and not question.free:
        return question.choices[int(given) - 1]
    begun = [choice for choice in question.choices if given and choice.lower().startswith(given.lower())]
    if len(begun) == 1:
        return begun[0]
    if question.free and given:
        return given
    raise InvalidDocument(
        [f"answer {answer!r} to {question.code!r} is none of: {'; '.join(question.choices)}. Choose one of these."]
    )


def expected_of(brief: Brief | None, oven: Oven | None) -> Expected:
    """What brief and oven let a log expect."""
    content: dict[str, Any] = {}
    if brief is not None:
        content |= {
            "dish": brief.dish,
            "mass_g": brief.portion.mass_g,
            "start_temperature_c": brief.portion.start_temperature_c,
        }
        content |= {"places": brief.places, "rest_s": brief.rest_s}
    if oven is not None:
        content |= {"oven_name": oven.name, "oven_serial": oven.serial, "share_step_pct": oven.share_step_pct}
        content |= {"air_temperature_c": (oven.air_temperature_c.low, oven.air_temperature_c.high)}
        content |= {"duration_s": (oven.duration_s.low, oven.duration_s.high), "air_speed_low_pct": oven.air_speed_pct.low}
        content |= {"microwave_rated_w": oven.microwave_rated_w, "air_speed_max_m_s": oven.air_speed_max_m_s}
    return Expected.model_validate(content)
