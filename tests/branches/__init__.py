"""Which branches of the package no test goes down."""
