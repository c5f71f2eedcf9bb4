"""Pieces at their true size: outlines with scores and slits for the last pages of the printed sheet."""
