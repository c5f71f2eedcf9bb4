"""Pieces at true size: exact outlines with scores and slits, for templates on paper and for drawing files.

    outlines   a piece → named lines, exact, in the recipe's unit
    drawn      what is drawn: each piece and each sheet of the cutting plan, with its words
    svg_files, dxf_files   that as files
    wanted     which pieces get a template on paper, and which are too plain for one
    rooms, packing   the room on a page; templates → pages
    tiling, joins    a piece that no page holds → parts that overlap, with the marks to join them by
    strokes, words_inside   lines as a page draws them; names and numbers where they have room
    templates  the pages as plain data for the typst template

Every piece is seen from the side that faces up while it is made: a sheet that is folded lies inside up, and a
valley or a mountain is one as seen from there; all else lies with its face up.
"""
