"""Repairs the theme's HTML for screen readers and keyboards: accessible names and correct roles."""

from __future__ import annotations

from docs.build.tree import Tag, tags

# The theme names each colour scheme's radio button by the other scheme, as its icon's hint is.
SCHEMES = {"default": "Light page", "slate": "Dark page"}


def repair(page: Tag) -> None:
    """Change a page of the theme in place."""
    for box in page.find_class("md-search"):
        # It is open in the header, so it is no dialog. The box inside has its own role.
        if box.get("role") == "dialog":
            del box.attrib["role"]
    for button in page.find_class("md-option"):
        if scheme := button.get("data-md-color-scheme"):
            button.set("aria-label", SCHEMES[scheme])
    for field in page.find_class("md-search__input"):
        # Only a form that is sent can want it; "invalid, required" is what a screen reader says of it, blank.
        field.attrib.pop("required", None)
    for told in page.find_class("md-search-result__meta"):
        # "Initializing search", read aloud on every page.
        told.text = None
    for anchor in page.find_class("headerlink"):
        anchor.set("aria-label", anchor.attrib.pop("title"))
    for link in tags(page, "link"):
        # They serve the theme's shortcuts of one letter, which page/by-keyboard.js holds back; Firefox
        # fetches the next page for them unasked.
        if not {"next", "prev"}.isdisjoint(link.get("rel", "").split()):
            link.drop_tree()
