"""Simulated kitchens, deliberately another model than physics."""
