"""Many cards at once: folded cards with their counts → one plan, one shopping list, bags and a prep list."""
