"""The language server: what an editor asks of a recipe, answered from the same stages as every command."""
