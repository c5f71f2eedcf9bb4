"""The sheet of a class → its pack: shopping, prep, cutting plan, bag lists, labels, in every page format."""
