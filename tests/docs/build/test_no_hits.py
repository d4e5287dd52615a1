"""What the search offers where it finds nothing."""

import json
import re

from bs4 import BeautifulSoup

from docs.build.no_hits import no_hits_module
from docs.build.site import PAGES


def test_it_leads_to_pages_that_are_there_and_shows_an_empty_rack():
    html = json.loads(re.search(r"NO_HITS = (.*);\n", no_hits_module())[1])
    soup = BeautifulSoup(html, "html.parser")
    for link in soup.find_all("a"):
        page = link["data-site"].partition("?")[0].rstrip("/")
        assert (PAGES / f"{page}.md").is_file()
    assert soup.select("svg .dw-to-come")
