"""The one sheet of a card with all its variants, in each page format.

columns    which cards stand side by side in a table
page       HTML: the page of the main card, with the comparison before it and the variants after it
pdf_data, pdf   the same for typst
markdown   the same for a repository or a forum
"""
