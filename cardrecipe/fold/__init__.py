"""Sized card to folded card: layers, closed size, views, thickness."""
