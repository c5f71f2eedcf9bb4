"""Texts that nobody would write, and what must hold of the compiler whatever it is given."""
