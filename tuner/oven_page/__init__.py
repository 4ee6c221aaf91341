"""The page at the oven: a small page without network if need be, on which a test cook is logged; its routes under /oven/."""

from tuner.oven_page.routes import oven_routes

__all__ = ["oven_routes"]
