"""A place or a line of a recipe → a few words about it."""
