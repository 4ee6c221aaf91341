"""Cook logs written down before anybody looked at what the import knows, each with what a person would read from it."""
