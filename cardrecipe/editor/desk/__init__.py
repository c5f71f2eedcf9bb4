"""The texts that lie open in an editor → the recipe that each of them is at this moment, and its mistakes."""
