"""A recipe in a text file becomes a sheet that somebody can make a card from."""
