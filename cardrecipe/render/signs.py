"""The sign that every file of a sheet bears: a later `build` knows by it that it may write over the file."""

NAME = "cardrecipe"
COMMENT = f"<!-- generator: {NAME} -->"
METADATA = f"<metadata>generator: {NAME}</metadata>"
DXF_COMMENT = f"999\n{NAME}\n"  # what stands behind a group code 999 is a comment: DXF reference
# By ending. A page, a drawing and the properties of a PDF have a place for such words, and the data begins
# with its format.
SIGNS = {
    ".html": f'<meta name="generator" content="{NAME}">'.encode(),
    ".pdf": f"/Keywords({NAME})".encode(),
    ".md": COMMENT.encode(),
    ".json": f'"format": "{NAME}'.encode(),
    ".svg": METADATA.encode(),
    ".dxf": DXF_COMMENT.encode(),
}


def signed_markdown(text: str) -> bytes:
    """Give a Markdown text with its sign, which nobody sees on the page."""
    return f"{text.rstrip()}\n\n{COMMENT}\n".encode()


def signed_svg(text: str) -> bytes:
    """Give a drawing with its sign, which is not drawn."""
    return f"{text.rstrip().removesuffix('</svg>')}{METADATA}</svg>\n".encode()
