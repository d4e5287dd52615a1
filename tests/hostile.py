"""Texts that try to become something else than text: a script, a formula, a path, a flood.

The kinds are those of the OWASP cheat sheets (cross-site scripting filter evasion, CSV injection),
CWE-22 (path traversal), CWE-409 (what unpacks without end), CWE-1236 (formulas) and Unicode's UTR 36 (letters that deceive).
"""

from hypothesis import strategies as st

SCRIPTS = (
    "<script>window.taken = 1</script>",
    "<img src=x onerror=window.taken=1>",
    "<svg onload=window.taken=1>",
    "<svg><script>window.taken=1</script></svg>",
    '"><img src=x onerror=window.taken=1>',
    "'><script>window.taken=1</script>",
    "</textarea><script>window.taken=1</script>",
    "</title><script>window.taken=1</script>",
    "</style><script>window.taken=1</script>",
    "</script><script>window.taken=1</script>",
    "<iframe srcdoc='<script>parent.taken=1</script>'>",
    "<a href=javascript:window.taken=1>x</a>",
    "javascript:window.taken=1",
    "<math><mtext><style><img src=x onerror=window.taken=1></style></mtext></math>",
    "<details open ontoggle=window.taken=1>",
    "<input autofocus onfocus=window.taken=1>",
    "<base href=//taken.invalid/>",
    "<meta http-equiv=refresh content='0;url=//taken.invalid/'>",
    "<form action=//taken.invalid/><button>x",
    "<template><script>window.taken=1</script></template>",
    "<python-cell><textarea>import js</textarea></python-cell>",
    "&lt;script&gt;window.taken=1&lt;/script&gt;",
    "<!--><script>window.taken=1</script>-->",
    "<![CDATA[<script>window.taken=1</script>]]>",
    "\\u003cscript\\u003ewindow.taken=1",
    "{{constructor.constructor('window.taken=1')()}}",
    "<ſcript>window.taken=1</ſcript>",
    "＜script＞window.taken=1＜/script＞",
    "\u202egnp.exe <b>",
    "\x00<b>\x0b\x1b[31m",
)
FORMULAS = (
    "=1+1", "+1+1", "-1+1", "@SUM(1)", "\t=1+1", "\r=1+1", "\n=1+1", "=HYPERLINK(\"//taken.invalid\")",
    "＝1+1", "＋1", "－1", "＠SUM(1)", "Ama;=1+1", "Ama\t=1+1", 'Ama";=1+1', "=cmd|' /C calc'!A0",
)  # fmt: skip
PATHS = (
    "../../taken", "/tmp/taken", "..\\..\\taken", "C:\\taken", "a/../../b", "~/taken", "taken\x00.html",
    "CON", "file:///etc/passwd", "%2e%2e%2ftaken",
)  # fmt: skip
# In place of a set in an address: no letters, other versions, nothing packed, an endless number.
LINKS = (
    "#set=", "#set=1.", "#set=1.z", "#set=0.AAAA", "#set=9999.AAAA", "#set=1.====", "#set=1." + "A" * 90_000,
    "#set=1." + "_" * 90_000, "#set=1.<script>window.taken=1</script>", "#set=1.%00%00", "#set=" + "1" * 90_000,
    "#set=-1.AAAA", "#set=1.\x00\x1b[31m", "#set=١.AAAA", "set=" * 90_000, "#set=1.AAAAAAMA",
)  # fmt: skip
# Parts of a workbook: entities that grow or reach outside (CWE-776, CWE-611), what never ends, what is no XML.
XML = (
    b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><x>&b;</x>',
    b'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]><x>&a;</x>',
    b'<!DOCTYPE x SYSTEM "http://taken.invalid/x.dtd"><x/>',
    b"<x>",
    b"",
    b"\xff\xfe",
    b"<x>" * 100_000,
    b"<x " + b'a="1" ' * 100_000,
    # Letters in a way that no reader here knows.
    b'<?xml version="1.0" encoding="utf-dozen"?><x/>',
    b'<?xml version="1.0" encoding="shift_jis"?><x/>',
)
# Lists of grades, of changed marks, of names: endless, nested in quotes, in other scripts' digits.
TABLES = ('"' * 10_001, "a;" * 10_000, "\n" * 10_000, "a\tb\n" * 5_000, '"a\n' * 5_000, "٣;٤\n", "\ufeff" * 99, ",=1+1" * 999)  # fmt: skip
EVERY = (*SCRIPTS, *FORMULAS, *PATHS)

# For Hypothesis: any text, and whatever JSON can hold.
any_text = st.text(st.characters(codec=None), max_size=60) | st.sampled_from(EVERY)
json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | any_text,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(any_text, inner, max_size=3),
    max_leaves=12,
)
