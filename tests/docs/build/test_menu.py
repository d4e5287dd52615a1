"""The menu is put aside while a page is read, and comes back as it was, repaired."""

from docs.build.menu import END, PLACE, START, put_aside, put_back

MENU = f'{START} hidden>\n <label tabindex="">\n  A loaf of 80 g\n </label>\n</div>\n'


def test_a_page_is_read_without_its_menu_and_has_it_back():
    page = f"<body>{MENU}{END}></div></body>"
    without, menu = put_aside(page)
    assert without == f"<body>{PLACE}{END}></div></body>"
    assert put_back(without, menu) == (
        f"<body>{START} hidden>\n<label>\nA loaf of 80\u00a0g\n</label>\n</div>\n{END}></div></body>"
    )


def test_a_page_without_one_stays_whole():
    page = "<body><p>One  line</p></body>"
    assert put_aside(page) == (page, "")
    assert put_back(*put_aside(page)) == page
