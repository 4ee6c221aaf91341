"""Programs that are told by pointing at another cook: 'as cook 3', 'wie Versuch 2', 'comme essai 4'."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from tuner.exchange.heading_words import plain
from tuner.exchange.row_parts import Columns, Group, id_key

_POINTS = re.compile(
    r"^(?:(?:the\s+)?same\s+(?:as|program\w*\s+as)|as(?:\s+in)?|like|see|wie(?:\s+bei)?|siehe|s\.|comme|voir|idem|como|igual\s+que|ver|come|vedi"
    r"|zoals|als|zie|=)\s*(?:for\s+|in\s+|l'|la\s+|le\s+|el\s+|the\s+)?"
    r"(?:cook|no|nr|num|number|run|trial|test|row|versuch|essai|prueba|ensayo|prova|proef|n|#)?\s*[.°º#]?\s*(?P<label>[\w.-]{1,12})$"
)


def follow_references(groups: Sequence[Group], columns: Columns) -> None:
    """Give each cook whose program points at another cook the program cells of that one.

    A chain is followed from the top; a cook that is not there leaves the cell as it is, and it is refused as unreadable.
    """
    by_label = {id_key(group.label): group for group in groups if group.label}
    for group in groups:
        for index, row in enumerate(group.rows):
            for use in columns.of("program", "program_name"):
                found = _POINTS.match(plain(row.cells[use.column]).strip(" ."))
                other = by_label.get(id_key(found["label"])) if found else None
                if other is None or other is group:
                    continue
                told = next((line.cells[use.column] for line in other.rows if line.cells[use.column]), "")
                cells = list(row.cells)
                cells[use.column] = told or cells[use.column]
                row = replace(row, cells=tuple(cells))
            group.rows[index] = row
