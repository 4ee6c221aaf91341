"""Checks of the invented demo."""
