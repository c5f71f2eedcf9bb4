"""The sign that every file of a sheet bears: a later `build` knows by it that it may write over the file."""

NAME = "cardrecipe"
COMMENT = f"<!-- generator: {NAME} -->"
DXF_COMMENT = f"999\n{NAME}\n"  # what stands behind a group code 999 is a comment: DXF reference
# By ending. A page and the properties of a PDF have a place for the program's name, and the data begins
# with its format.
SIGNS = {
    ".html": f'<meta name="generator" content="{NAME}">'.encode(),
    ".pdf": f"/Keywords({NAME})".encode(),
    ".md": COMMENT.encode(),
    ".json": f'"format": "{NAME}'.encode(),
    ".svg": COMMENT.encode(),
    ".dxf": DXF_COMMENT.encode(),
}


def signed(text: str) -> bytes:
    """Give a Markdown or an SVG text with its sign, which nobody sees on the page."""
    return f"{text.rstrip()}\n\n{COMMENT}\n".encode()
