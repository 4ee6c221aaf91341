"""The simple rule, proof plans, tolerance limits."""
