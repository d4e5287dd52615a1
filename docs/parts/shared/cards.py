"""Tables that become cards where a page is narrow."""

from xml.etree.ElementTree import Element


def as_cards(box: Element) -> Element:
    """A `table` whose rows become cards where the page is narrow (style.css): each cell names its column."""
    heads = [head.text for head in box.iterfind("table/thead/tr/*")]
    for row in box.iterfind("table/tbody/tr"):
        for head, cell in zip(heads, row, strict=True):
            if head and cell.tag == "td":
                cell.set("data-label", head)
    box.set("class", f"{box.get('class')} dw-cards")
    return box
