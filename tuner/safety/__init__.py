"""Food classes, critical limits, lethality, verdict, eat gate, cautions."""
