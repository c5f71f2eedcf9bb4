"""Folded card to sheet: steps, cut list, supplies, envelopes."""
