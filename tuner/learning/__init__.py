"""First guess, calibration, proposals, stopping, reasons."""
