"""What a page's body holds, as text."""

from docs.build.tree import Tag, written


def body(page: Tag) -> str:
    return written(page).partition("<body>")[2].partition("</body>")[0]
