"""The keyboard of a reader who has no mouse."""

# Where the focus is, as seen from a place: asked at each press, of a place that was looked for once.
AT = """(place) => {
    const {type, name, form, isConnected} = place, focused = document.activeElement;
    if (place === focused) return "here";
    if (!isConnected) return "gone";
    return type === "radio" && focused.name === name && focused.form === form ? "its group" : "elsewhere";
}"""


class Keys:
    """Each press is counted; what is typed as an answer is not."""

    def __init__(self, page):
        self.page = page
        self.presses = 0

    def press(self, key):
        self.page.keyboard.press(key)
        self.presses += 1

    def tab_to(self, place, most=80):
        """Tab until the focus is there; in a group of options the arrows do the rest."""
        wanted = place.element_handle()
        for _ in range(most):
            at = wanted.evaluate(AT)
            if at == "here":
                return
            if at == "gone":
                wanted = place.element_handle()
            else:
                self.press("ArrowDown" if at == "its group" else "Tab")
        raise AssertionError(f"no way to {place} by keyboard")
