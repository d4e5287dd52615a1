"""What a page may load and run: a Content-Security-Policy in each, by the pass over the built pages.

Source: W3C, Content Security Policy Level 3; W3C, Trusted Types. A policy in a page's own ``meta``
holds on any host. A host may add `HEADERS`: they cover what a ``meta`` cannot, the workers and
who may put the site in a frame.
"""

from __future__ import annotations

import base64
import hashlib
import re

from bs4 import BeautifulSoup, Tag

from docs.build.tree import tags

# An event-handler attribute such as onclick. Three letters after “on”, so that plain “one” does not match.
HANDLER = re.compile(r"on[a-z]{3,}$")

DIRECTIVES = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "font-src": "'self'",
    # The theme's icons are data: pictures in its style sheet.
    "img-src": "'self' data:",
    "connect-src": "'self'",
    "worker-src": "'self'",
    "manifest-src": "'self'",
    "form-action": "'self'",
    "base-uri": "'none'",
    "object-src": "'none'",
}
TRUSTED_TYPES = {
    "require-trusted-types-for": "'script'",
    # The two that page/policy.js makes.
    "trusted-types": "default doughwater-reader",
}
# A worker obeys the headers it came with, not its page. WebAssembly is all the freedom Python needs.
_WORKER = {
    "default-src": "'none'",
    "script-src": "'self' 'wasm-unsafe-eval'",
    "connect-src": "'self'",
}
# What a host may add; `python -m docs serve` sends them too. Scripts get `SCRIPT_HEADERS` besides.
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}


def _written(directives: dict[str, str]) -> str:
    return "; ".join(f"{name} {sources}" for name, sources in directives.items())


PAGE_HEADERS = {"Content-Security-Policy": "frame-ancestors 'none'"}
SCRIPT_HEADERS = {"Content-Security-Policy": _written(_WORKER)}

# Markdown's tables align their cells by an inline style.
_ALIGNED = {f"text-align: {side};": f"dw-cell-{side}" for side in ("left", "center", "right")}


def secure(soup: BeautifulSoup) -> None:
    """Give a page its policy, before all that obeys it.

    Raises ValueError for what the policy would refuse: an inline style, or a handler in an attribute.
    """
    _move_styles(soup)
    if soup.head is None:
        return
    policy = soup.new_tag("meta", attrs={"http-equiv": "Content-Security-Policy"})
    policy["content"] = policy_of(soup)
    first = soup.head.find("meta", charset=True)
    if isinstance(first, Tag):
        first.insert_after(policy)
    else:
        soup.head.insert(0, policy)


def policy_of(soup: BeautifulSoup) -> str:
    """The policy of a page: ours, and the hash of each inline script that the theme wrote into it."""
    inline = [script for script in tags(soup) if _runs(script)]
    hashes = dict.fromkeys(f"'{integrity(script.get_text().encode())}'" for script in inline)
    scripts = " ".join([DIRECTIVES["script-src"], *hashes])
    return _written(DIRECTIVES | {"script-src": scripts} | TRUSTED_TYPES)


def integrity(content: bytes) -> str:
    """A SHA-256 hash as browsers write it (W3C, Subresource Integrity)."""
    return "sha256-" + base64.b64encode(hashlib.sha256(content).digest()).decode()


def _runs(script: Tag) -> bool:
    if script.name != "script" or "src" in script.attrs:
        return False
    # Rules of what to load ahead run nothing, but obey the same policy.
    return script.get("type", "text/javascript") in (
        "text/javascript",
        "module",
        "speculationrules",
    )


def _move_styles(soup: BeautifulSoup) -> None:
    for tag in tags(soup):
        style = tag.attrs.get("style")
        if style in _ALIGNED:
            tag["class"] = [*tag.get("class", []), _ALIGNED[style]]
            del tag["style"]
        elif style is not None or tag.name == "style":
            raise ValueError(
                f"<{tag.name}> has an inline style (“{style or '<style>'}”), which the page’s own policy "
                "refuses. Give it a class in docs/pages/assets/style.css."
            )
        for name in tag.attrs:
            if HANDLER.match(name):
                raise ValueError(
                    f"<{tag.name} {name}> is an inline script, which the page’s own policy refuses. "
                    "Put it in a module."
                )
