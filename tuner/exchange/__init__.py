"""Files in and out: cook logs as kitchens keep them, the export as JSON, and the tidy CSV."""

from tuner.exchange.import_result import ImportedCook, ImportResult, LeftOut, RefusedRow
from tuner.exchange.mapping import LEAVE_OUT, ColumnMapping, ColumnUse, ImportQuestion
from tuner.exchange.snapshot_json import read_json, write_json
from tuner.exchange.table import Table, read_table

__all__ = [
    "LEAVE_OUT",
    "ColumnMapping",
    "ColumnUse",
    "ImportQuestion",
    "ImportResult",
    "ImportedCook",
    "LeftOut",
    "RefusedRow",
    "Table",
    "read_json",
    "read_table",
    "write_json",
]
