"""Parts that several screens share: each draws one thing and owns no data."""
