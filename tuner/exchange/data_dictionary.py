"""What every column of the tidy CSV means: one entry a column, `<n>` where a column comes once for each stage, place or taster."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class DictionaryEntry:
    """One column of the tidy CSV.

    Attributes
    ----------
    name
        Name of the column; `<n>` stands for 1, 2, 3, ...
    kind
        `text`, `number`, `whole`, `yes/no` or `time` (ISO 8601 with zone).
    unit
        Unit of a number, empty for none.
    meaning
        What it is.
    """

    name: str
    kind: Literal["text", "number", "whole", "yes/no", "time"]
    unit: str
    meaning: str


_E = DictionaryEntry

DATA_DICTIONARY: tuple[DictionaryEntry, ...] = (
    _E("development_id", "text", "", "id of the development"),
    _E("dish", "text", "", "dish of the brief as it is now"),
    _E("customer", "text", "", "whom the development is for; empty for our own"),
    _E("development_state", "text", "", "open, closed or archived"),
    _E("development_oven", "text", "", "name of the development's oven as it is described now"),
    _E("entry_id", "text", "", "id of this entry"),
    _E(
        "cook_number",
        "whole",
        "",
        "number of the cook within its development; a correction has the number of the cook it corrects",
    ),
    _E("corrects_entry", "text", "", "id of the entry that this one corrects; empty for none"),
    _E("superseded", "yes/no", "", "whether a later entry corrects this one; leave such rows out of any analysis"),
    _E("correction_reason", "text", "", "why it was corrected"),
    _E("logged_at", "time", "", "when the entry was written"),
    _E("logged_by", "text", "", "who wrote it"),
    _E("purpose", "text", "", "first_guess, search, confirm, benchmark, proof or site_check"),
    _E("cooked_at", "time", "", "when the cook began"),
    _E("cook_name", "text", "", "who cooked"),
    _E("air_temperature_c", "number", "°C", "cavity air temperature of the program ordered"),
    _E("duration_s", "number", "s", "duration of the program ordered"),
    _E("stage_<n>_share_pct", "number", "%", "share of the time of stage n"),
    _E("stage_<n>_air_speed_pct", "number", "%", "air speed of stage n"),
    _E("stage_<n>_microwave_pct", "number", "%", "microwave of stage n"),
    _E(
        "program_set",
        "text",
        "",
        "the program keyed in where it differs from the one ordered, as JSON; it is what the oven did",
    ),
    _E("mass_g", "number", "g", "mass of the portion before cooking"),
    _E("start_temperature_c", "number", "°C", "temperature of the portion at the start"),
    _E("core_<n>_c", "number", "°C", "core reading at place n after the rest"),
    _E("place_<n>", "text", "", "name of place n, where places are named"),
    _E("thermometer_checked_at", "time", "", "when the thermometer was last checked"),
    _E("rest_s", "number", "s", "rest before the readings"),
    _E("rest_covered", "yes/no", "", "whether the portion rested covered"),
    _E("held_s", "number", "s", "time held at or above the limit"),
    _E("completed", "yes/no", "", "no where the cook was interrupted; empty where nobody said"),
    _E("interrupted_by", "text", "", "what interrupted it"),
    _E("mass_out_g", "number", "g", "mass after cooking"),
    _E("cook_loss_pct", "number", "%", "100 (mass before - mass after) / mass before; negative where mass was taken up"),
    _E("taster_<n>", "text", "", "name or code of taster n of this cook"),
    _E("browning_<n>", "number", "mark", "browning by taster n: 1 much too pale, 3 just right, 5 much too dark"),
    _E("texture_<n>", "number", "mark", "texture by taster n: 1 much too soft, 3 just right, 5 much too firm"),
    _E("moisture_<n>", "number", "mark", "moisture by taster n: 1 much too dry, 3 just right, 5 much too wet"),
    _E("further_scores", "text", "", "further scores by taster, as JSON"),
    _E("note", "text", "", "note"),
    _E("lot", "text", "", "lot of the main ingredient"),
    _E("load", "whole", "portions", "portions cooked together"),
    _E("oven_serial", "text", "", "serial number of the oven, where it was logged"),
    _E("seconds_since_last_cook", "number", "s", "time since the cook before on that oven"),
    _E("serving_age_s", "number", "s", "time from the oven to the tasting"),
    _E("photo", "text", "", "name of the photo"),
    _E("history", "text", "", "where an old cook came from; its tastings were made before the tool could say anything"),
    _E("trace_samples", "whole", "", "number of samples of the temperature trace; the trace itself is in the JSON export"),
)
"""Columns of the tidy CSV in their order."""


def write_dictionary_csv() -> bytes:
    """The data dictionary as CSV (UTF-8): column, kind, unit, meaning."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(["column", "kind", "unit", "meaning"])
    for entry in DATA_DICTIONARY:
        writer.writerow([entry.name, entry.kind, entry.unit, entry.meaning])
    return out.getvalue().encode("utf-8")
