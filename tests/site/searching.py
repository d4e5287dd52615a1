"""Use the site's search as a reader does: type, and read the list."""

from urllib.parse import urlsplit

# Each query in turn, after none: the list is filled in the moment in which the line above it says so, or the search's
# own scripts soon after. Nobody looks at it meanwhile, so it is not laid out.
ASK = """async ([queries, count]) => {
    const field = document.querySelector(".md-search__input");
    const [list, told] = ["list", "meta"].map((name) => document.querySelector(`.md-search-result__${name}`));
    const type = (text, answer) => new Promise((resolve) => {
        const look = () => {
            if (!answer.test(told.textContent)) return;
            heard.disconnect();
            setTimeout(resolve);
        };
        const heard = new MutationObserver(look);
        heard.observe(told, {childList: true, characterData: true, subtree: true});
        field.value = text;
        field.dispatchEvent(new KeyboardEvent("keyup", {key: "Shift", bubbles: true}));
        look();
    });
    const found = [];
    list.hidden = true;
    for (const query of queries) {
        await type("", /Type to start searching/);
        await type(query, /matching/);
        const links = list.querySelectorAll(".md-search-result__item > .md-search-result__link:first-child");
        found.push([...links].slice(0, count).map(({href}) => href));
    }
    list.hidden = false;
    return found;
}"""


def open_search(page, address):
    """Go to the start page and into the search field."""
    page.goto(address)
    page.locator(".md-search__input").click()


def hits_of(page, queries, count=3):
    """The addresses of the first pages in the list for each query, from the site's start."""
    return [
        [urlsplit(link).path.lstrip("/") for link in links]
        for links in page.evaluate(ASK, [queries, count])
    ]


def first_hits(page, query):
    """The same for one query, which stays in the field."""
    return hits_of(page, [query])[0]
