"""How often one line may stand for several things: the most that any count in a recipe may be."""

MAX_COPIES = 10_000  # cards of a recipe, typed or in a file, and of a class in all: a printer's run
MAX_COUNT = 2_000  # pieces of one shape in a card; as many as a card may have pieces
MAX_REPEAT = 100  # copies of a piece in a row: at 1/16 in each they are wider than most sections
MAX_PACK = 10_000  # sheets in a pack; a pallet has no more
MAX_SHEETS = 10_000  # sheets of one kind that a class has at hand; as many as it may make cards
MAX_SPARE = 1_000  # kits beyond the seats of a class; more are no spares
MAX_SCORE = 1_000  # the number of a score in a pose; no piece has so many
