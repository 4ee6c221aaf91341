"""Files in and out: cook logs, JSON, CSV."""
