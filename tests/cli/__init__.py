"""Checks of the command line."""
