"""A whole set as letters for an address, and back.

They stand in the part after “#”, which no browser sends to a server. The form: a version, a point, then
CRC-32 and DEFLATE (RFC 1951) in base64url (RFC 4648). DEFLATE begins with a dictionary of what sets
are made of, which shortens a small set by half. Whoever changes the form or the dictionary gives it another version.

The checksum finds damage; it is no seal against a forger. What comes out is read as any set is.
"""

from __future__ import annotations

import base64
import re
import zlib
from functools import lru_cache

from exercises.draws import ProblemSet
from exercises.problems import read_set
from exercises.setfile import LARGEST_SET, parse
from exercises.yaml_write import block

VERSION = 1
# The page of the site that opens a set from its own address.
PAGE = "practice/given/"
FIELD = "set"
# A set of the largest size that cannot be made smaller, in base64, has about so many letters.
LONGEST_LINK = LARGEST_SET * 2
# UTF-8 takes up to four bytes a letter.
_LARGEST = LARGEST_SET * 4
# What is put into a message often loses a sign of punctuation at its end; what follows DEFLATE's own end does not count.
_LAST = "z"
_RAW = -15
_FOUND = re.compile(rf"(?<![A-Za-z]){FIELD}(?:=|%3D)(?:3D)?(\d{{1,4}})\.", re.IGNORECASE)
_NO_CODE = re.compile(r"[^A-Za-z0-9_-]+")
_DICTIONARY = b"""\
  - id: 
    title: 
    level: 1
    ask: order
    by: water content
    story: Put these in order by their water.
    items: [water, whole milk, buttermilk, sour cream, yogurt, butter, egg]
    ask: choice
    questions:
      - ask: 
        options:
          - {text: , because: }
          - {text: , right: yes, because: }
    show: 3
    marks per step: 2
    tries: 3
    unshown steps: never
    hint cost: [0, 0, 0.5, 1]
    givens:
      liquid: [buttermilk, whole milk, plain yogurt]
      flour: {from: 400 g, to: 900 g, step: 50 g}
      hydration: [60 %, 65 %, 70 %]
    ask: new liquid
    story: |
      A loaf has {flour} of flour at {hydration} hydration. You have {liquid}, which is {water content of liquid} water. How much goes in?
name: 
title: 
version: 1
due: 
lesson: 
about: 
problems:
"""  # fmt: skip


NO_LINK = (
    f"There is no set in this. A link to a set has “#{FIELD}=” in it. Copy the whole link that your teacher "
    "sent, or choose the file."
)


class LinkError(ValueError):
    """No set can be read from a link; the message says why, and what to do."""


def to_give(text: str, file: str) -> str:
    """A set as it goes to students: it bears its own name, and none of the teacher's notes.

    So a student's copy has the same numbers, whatever its file is called. Raises SetError.
    """
    plain = parse(text, file).plain
    named = {"name": read_set(text, file).key, **plain}
    given = "\n".join(block(named, 0)) + "\n"
    # Only now does it bear its name: ours belongs to ours alone. Its draws were looked at just now.
    read_set(given, file, most_draws=0)
    return given


def pack(text: str) -> str:
    """A set's text as the letters of a link."""
    plain = text.encode()
    packer = zlib.compressobj(9, zlib.DEFLATED, _RAW, 9, zlib.Z_DEFAULT_STRATEGY, _DICTIONARY)
    packed = zlib.crc32(plain).to_bytes(4) + packer.compress(plain) + packer.flush()
    return f"{VERSION}.{base64.urlsafe_b64encode(packed).decode().rstrip('=')}{_LAST}"


def link(site: str, text: str) -> str:
    """The address that holds a set; `site` is the address of the site's first page."""
    return f"{site.rstrip('/')}/{PAGE}#{FIELD}={pack(text)}"


def page_of_ours(site: str, key: str) -> str:
    """The address of the page of one of our sets."""
    return f"{site.rstrip('/')}/practice/{key}/"


def is_link(text: str) -> bool:
    """Whether a text holds a link to a set, whole or not."""
    return bool(_FOUND.search(text[:LONGEST_LINK]))


def unpack(text: str) -> str:
    """The text of the set in a link; what stands around the link, or breaks it into lines, is passed over.

    Raises LinkError.
    """
    if len(text) > LONGEST_LINK:
        raise LinkError("This is far too long for a link to a set. Ask for the set as a file.")
    found = _FOUND.search(text)
    if not found:
        raise LinkError(NO_LINK)
    if int(found[1]) != VERSION:
        raise LinkError(
            "This link was made by another version of Doughwater, which this copy cannot read. "
            "Load this page again; if that does not help, ask your teacher for the set as a file."
        )
    return _opened(_NO_CODE.sub("", text[found.end() :]))


@lru_cache(maxsize=4)
def read_packed(packed: str) -> ProblemSet:
    """The set in the letters that `pack` gave. Raises LinkError, or SetError as `read_set` does."""
    return read_set(unpack(f"{FIELD}={packed}"), "link")


def _opened(code: str) -> str:
    # Whole bytes only: noughts in place of lost letters could pass for DEFLATE's own end.
    code = code[: len(code) - (len(code) % 4 == 1)]
    packed = base64.urlsafe_b64decode(code + "=" * (-len(code) % 4))
    opener = zlib.decompressobj(_RAW, _DICTIONARY)
    try:
        # A few thousand letters can hold gigabytes: stop at what a set may be.
        plain = opener.decompress(packed[4:], _LARGEST)
    except zlib.error:
        raise LinkError(_DAMAGED) from None
    if opener.unconsumed_tail:
        raise LinkError("This is far too large for a set. Ask your teacher for another link.")
    if not opener.eof:
        raise LinkError(
            "This link is cut short: its end is missing. Copy the whole link, or ask your teacher for "
            "the set as a file. Some e-mail programs cut long links."
        )
    if zlib.crc32(plain).to_bytes(4) != packed[:4]:
        raise LinkError(_DAMAGED)
    return plain.decode("utf-8", "replace")


_DAMAGED = (
    "This link is damaged: letters of it are missing or changed. Copy the whole link again, or ask your "
    "teacher for the set as a file."
)
