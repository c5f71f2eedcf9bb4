"""Card to sized card: linear equations over exact fractions, each remembering its statement."""
