"""Text to tree: the recipe as written, with the place of every word."""
