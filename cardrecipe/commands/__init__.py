"""The commands that take a file each: what was typed after `cardrecipe` → what is printed and written."""
