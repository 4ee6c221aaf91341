"""Files in and out: cook logs as kitchens keep them, the export as JSON, and the tidy CSV."""

from tuner.exchange.applying import apply_mapping
from tuner.exchange.data_dictionary import DATA_DICTIONARY, DictionaryEntry, write_dictionary_csv
from tuner.exchange.fingerprints import layout_of
from tuner.exchange.guessing import guess_mapping
from tuner.exchange.import_result import ImportedCook, ImportResult, LeftOut, RefusedRow
from tuner.exchange.mapping import LEAVE_OUT, ColumnMapping, ColumnUse, ImportQuestion
from tuner.exchange.snapshot_json import read_json, write_json
from tuner.exchange.table import Table
from tuner.exchange.table_reading import read_table
from tuner.exchange.tidy_csv import write_tidy_csv

__all__ = [
    "DATA_DICTIONARY",
    "LEAVE_OUT",
    "ColumnMapping",
    "ColumnUse",
    "DictionaryEntry",
    "ImportQuestion",
    "ImportResult",
    "ImportedCook",
    "LeftOut",
    "RefusedRow",
    "Table",
    "apply_mapping",
    "guess_mapping",
    "layout_of",
    "read_json",
    "read_table",
    "write_dictionary_csv",
    "write_json",
    "write_tidy_csv",
]
