"""A place in a recipe → what can be written there."""
