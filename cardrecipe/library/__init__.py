"""Folds written in the recipe language, and tables of facts with their sources."""
