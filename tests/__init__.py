"""Tests that mirror the package, and checks against the world outside."""
