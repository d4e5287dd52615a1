"""The keyboard of a reader who has no mouse."""


class Keys:
    """Each press is counted; what is typed as an answer is not."""

    def __init__(self, page):
        self.page = page
        self.presses = 0

    def press(self, key):
        self.page.keyboard.press(key)
        self.presses += 1
