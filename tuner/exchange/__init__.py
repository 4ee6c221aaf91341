"""Files in and out: cook logs as kitchens keep them, the export as JSON, and the tidy CSV."""

from tuner.exchange.snapshot_json import read_json, write_json

__all__ = ["read_json", "write_json"]
