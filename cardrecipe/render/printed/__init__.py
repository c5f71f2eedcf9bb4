"""The printed sheet before typst sets it: what is decided in numbers, where it can be tested.

look           usual or large: one grid, one type scale
grey           colours to greys, papers still told apart
pictures       a drawing with the size that it gets
lines_taken    how many lines a text takes, from the font's advance widths
columns, lists supplies and cuts in columns that end alike
layouts        the sheets of the cutting plan side by side
step_rows      steps in rows of two
part_heights, page_fill   what stands where so that no page is left half empty
markdown_data  the maker's own text
"""
