"""What a page may load and run: a Content-Security-Policy in each, by the pass over the built pages.

Source: W3C, Content Security Policy Level 3; W3C, Trusted Types. A policy in a page's own ``meta``
holds on any host. A host may add `HEADERS`: they cover what a ``meta`` cannot, the workers and
who may put the site in a frame.
"""

from __future__ import annotations

import base64
import hashlib
import re

from docs.build.tree import Tag, classes, grown, put_first, tags
from exercises.publish.html import element

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


def secure(page: Tag) -> None:
    """Give a page its policy, before all that obeys it.

    Raises ValueError for what the policy would refuse: an inline style, or a handler in an attribute.
    """
    _move_styles(page)
    head = page.find("head")
    if head is None:
        return
    policy = grown(element("meta", http_equiv="Content-Security-Policy", content=policy_of(page)))
    first = head.find("meta[@charset]")
    if first is not None:
        first.addnext(policy)
    else:
        put_first(head, policy)


def policy_of(page: Tag) -> str:
    """The policy of a page: ours, and the hash of each inline script that the theme wrote into it."""
    inline = [script.text or "" for script in tags(page, "script") if _runs(script)]
    hashes = dict.fromkeys(f"'{integrity(script.encode())}'" for script in inline)
    scripts = " ".join([DIRECTIVES["script-src"], *hashes])
    return _written(DIRECTIVES | {"script-src": scripts} | TRUSTED_TYPES)


def integrity(content: bytes) -> str:
    """A SHA-256 hash as browsers write it (W3C, Subresource Integrity)."""
    return "sha256-" + base64.b64encode(hashlib.sha256(content).digest()).decode()


def _runs(script: Tag) -> bool:
    # Rules of what to load ahead run nothing, but obey the same policy.
    kinds = ("text/javascript", "module", "speculationrules")
    return script.get("src") is None and script.get("type", "text/javascript") in kinds


def _move_styles(page: Tag) -> None:
    for tag in page.xpath("//*[@style] | //style"):
        style = tag.get("style")
        if style not in _ALIGNED:
            raise ValueError(
                f"<{tag.tag}> has an inline style (“{style or '<style>'}”), which the page’s own policy "
                "refuses. Give it a class in docs/pages/assets/style.css."
            )
        tag.set("class", " ".join([*classes(tag), _ALIGNED[style]]))
        del tag.attrib["style"]
    for value in page.xpath("//@*[starts-with(name(), 'on')]"):
        if HANDLER.match(value.attrname):
            raise ValueError(
                f"<{value.getparent().tag} {value.attrname}> is an inline script, which the page’s own policy "
                "refuses. Put it in a module."
            )
