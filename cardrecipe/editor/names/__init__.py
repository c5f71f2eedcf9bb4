"""A name in a recipe → what it means, where it is declared, where else it stands."""
