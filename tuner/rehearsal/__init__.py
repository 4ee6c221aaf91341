"""Simulated kitchens, deliberately another model than physics."""

from tuner.rehearsal.catalogue import kitchen, names
from tuner.rehearsal.simulated import Kitchen

__all__ = ["Kitchen", "kitchen", "names"]
