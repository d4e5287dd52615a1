"""What a class sends, file by file: files, folders of them, zips, and a zip in a zip.

A school's system gives “all submissions” as one zip. It is read as it lies, nothing is unpacked to disk, so no name in
it leads anywhere; how many files it holds, and how large, is bounded before any is read. What a computer leaves beside
files is passed over. `advice` says of a file that is neither text nor table what it is and what to do.
"""

from __future__ import annotations

import io
import os
import re
import zipfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import BinaryIO

from exercises.letters import without_mark

MOST_FILES = 20_000
# Of the list of files at the end of a zip, which is read whole.
LARGEST_LIST = 4_000_000
LARGEST_INSIDE = 64_000_000
LARGEST_WHOLE = 1_000_000_000
DEEPEST = 2
_HEAD = 4_096
# What reading a damaged or locked zip raises. For a way of packing that it does not know, the standard library's
# zipfile raises NotImplementedError, which is a RuntimeError.
UNREADABLE = (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError)

LINK = "This is a link to another place, not a file. If it is meant, name the file it leads to."
BAD_ZIP = "This zip cannot be read: it is damaged or cut short. Download it again, or unzip it and mark the folder."
LARGE_ZIP = "This zip holds far more than a class hands in. Unzip it, and mark the folder in parts."
LOCKED = "This is locked with a password. Unlock it first."
TOO_DEEP = "This is a zip in a zip in a zip. Unzip it first."

TABLES = (".csv", ".tsv", ".tab")
WORKBOOKS = (".xlsx", ".xlsm", ".ods")
DOCUMENTS = (".docx", ".odt")


@dataclass(frozen=True)
class Refusal:
    """What could not be marked, and why."""

    place: str
    reason: str


@dataclass(frozen=True)
class Source:
    """A file, by itself or in a zip. `folder` is that of a file in a zip; `done` what comes before it, in bytes."""

    place: str
    name: str
    opener: Callable[[], BinaryIO]
    folder: str = ""
    done: int = 0
    in_zip: bool = False

    def open(self, mode: str = "rb") -> BinaryIO:
        """The bytes of the file, from its start. Raises OSError."""
        return self.opener()

    @property
    def ending(self) -> str:
        return PurePosixPath(self.name).suffix.lower()


# What a browser adds to the name of a file that is there already.
_COPY = re.compile(r" ?\((\d{1,9})\)(?=\.[^.]*$|$)")
_LITTER = ("thumbs.db", "ehthumbs.db", "desktop.ini", "icon\r", "__macosx")


def by_name(name: str) -> tuple[str, int, str]:
    """Sorts “ada (2).json” after “ada.json”, and “ada (10).json” after both."""
    copy = _COPY.search(name)
    return (_COPY.sub("", name), int(copy[1]) if copy else 0, name)


def is_litter(name: str) -> bool:
    """Whether a file or folder is what a computer or an office program leaves beside others: “.DS_Store”, “~$a.docx”."""
    return name.startswith((".", "~$")) or name.lower() in _LITTER


def files_of(paths: Sequence[Path]) -> list[Path]:
    """The files named, and those in the folders named, in order of name. Hidden files are left out."""
    found: list[Path] = []
    for path in paths:
        if not path.is_dir():
            found.append(path)
            continue
        for folder, folders, names in os.walk(path):
            folders[:] = sorted(name for name in folders if not is_litter(name))
            found += [Path(folder, name) for name in sorted(names, key=by_name) if not is_litter(name)]  # fmt: skip
    return found


def size_of(path: Path) -> int:
    """The bytes of a file; what cannot be asked counts as nothing."""
    return path.stat().st_size if path.is_file() else 0


def sources(paths: Sequence[Path]) -> Iterator[Source | Refusal]:
    """Each file to read, those of zips too; and what cannot be opened, with why."""
    done = 0
    for path in paths:
        if path.is_symlink():
            # In a folder of hand-ins a link could bring in a file that was never handed in.
            yield Refusal(str(path), LINK)
        elif not path.is_file():
            yield Refusal(str(path), "This is not a file that can be read.")
        elif path.suffix.lower() == ".zip":
            yield from _in_zip(str(path), path, done, 1)
        else:
            yield Source(str(path), path.name, lambda path=path: path.open("rb"), done=done)
        done += size_of(path)


def _in_zip(place: str, file: Path | BinaryIO, done: int, depth: int) -> Iterator[Source | Refusal]:
    try:
        if _list_size(file) > LARGEST_LIST:
            yield Refusal(place, LARGE_ZIP)
            return
        with zipfile.ZipFile(file) as bundle:
            yield from _of_bundle(place, bundle, done, depth)
    except (*UNREADABLE, ValueError, OSError):
        yield Refusal(place, BAD_ZIP)


def _list_size(file: Path | BinaryIO) -> int:
    """The bytes of a zip's list of files, as its end says (APPNOTE 4.3.16)."""
    if isinstance(file, Path):
        with file.open("rb") as opened:
            return _list_size(opened)
    file.seek(0, 2)
    file.seek(max(0, file.tell() - 66_000))
    end = file.read()
    file.seek(0)
    at = end.rfind(b"PK\5\6")
    return int.from_bytes(end[at + 12 : at + 16], "little") if at >= 0 else 0


def _of_bundle(
    place: str, bundle: zipfile.ZipFile, done: int, depth: int
) -> Iterator[Source | Refusal]:
    members = [info for info in bundle.infolist() if _is_meant(info)]
    if len(members) > MOST_FILES or sum(info.file_size for info in members) > LARGEST_WHOLE:
        yield Refusal(place, LARGE_ZIP)
        return
    for info in sorted(members, key=lambda info: _folder_first(info.filename)):
        yield from _member(f"{place}/{_shown(info.filename)}", bundle, info, done, depth)


def in_zip(bundle: zipfile.ZipFile, name: str | zipfile.ZipInfo) -> BinaryIO:
    """A file of a zip, opened. Raises OSError where the zip is damaged or locked, KeyError where it has none of that name."""
    try:
        return bundle.open(name)
    # A zip may say that a file begins before the zip does: that is a ValueError.
    except (*UNREADABLE, ValueError) as error:
        raise OSError(str(error)) from None


def _is_meant(info: zipfile.ZipInfo) -> bool:
    return not info.is_dir() and not any(map(is_litter, PurePosixPath(info.filename).parts))


def _folder_first(name: str) -> tuple[str, tuple[str, int, str]]:
    path = PurePosixPath(name)
    return str(path.parent), by_name(path.name)


def _shown(name: str) -> str:
    return "/".join(part for part in PurePosixPath(name).parts if part not in ("/", ".."))


def _member(
    place: str, bundle: zipfile.ZipFile, info: zipfile.ZipInfo, done: int, depth: int
) -> Iterator[Source | Refusal]:
    path = PurePosixPath(info.filename)
    if info.flag_bits & 1:
        yield Refusal(place, LOCKED)
    elif info.file_size > LARGEST_INSIDE:
        yield Refusal(place, "This file is far too large for a hand-in.")
    elif path.suffix.lower() != ".zip":
        offset = done + (info.header_offset if depth == 1 else 0)
        yield Source(place, path.name, lambda: in_zip(bundle, info), path.parent.name, offset, True)
    elif depth == DEEPEST:
        yield Refusal(place, TOO_DEEP)
    else:
        try:
            with in_zip(bundle, info) as file:
                inner = io.BytesIO(file.read())
        except (*UNREADABLE, OSError):
            yield Refusal(place, BAD_ZIP)
            return
        yield from _in_zip(place, inner, done, depth + 1)


# What else a file may be.

PICTURE = "This is a picture, and marking reads no pictures. Type its answers into the table that is printed with the worksheets, or ask for the hand-in file that the exercise page saves."
PDF = "This is a PDF, and marking reads none. Ask for the hand-in file that the exercise page saves, or type the answers into a table."
DOCUMENT = "This is a text document without a pasted hand-in in it. Ask for the hand-in file that the exercise page saves, or for the text that it gives to paste."
OLD_WORKBOOK = "This spreadsheet is of a kind that cannot be read here. Open it, and save it as .xlsx, .ods or CSV."
SLIDES = "These are slides, and marking reads none. Ask for the hand-in file that the exercise page saves."
RECORDING = "This is a recording, and marking reads none. Ask for the hand-in file that the exercise page saves."
PACKED = "This is packed in a way that cannot be read here. Unpack it, and mark the folder."
WEB_PAGE = "This is a web page without a pasted hand-in in it. Ask for the hand-in file that the exercise page saves."
SHORTCUT = "This only points to a file or page elsewhere. Open it there, download what it shows, and mark that."
NO_TEXT = "This is no text that can be read. Ask for the hand-in file that the exercise page saves."

# By their first bytes, as the formats' own documents say; from memory.
_BY_HEAD = (
    (b"\xff\xd8\xff", PICTURE), (b"\x89PNG", PICTURE), (b"GIF8", PICTURE), (b"BM", PICTURE), (b"II*\0", PICTURE), (b"MM\0*", PICTURE),
    (b"%PDF", PDF), (b"{\\rtf", DOCUMENT), (b"7z\xbc\xaf", PACKED), (b"Rar!", PACKED), (b"\x1f\x8b", PACKED), (b"ID3", RECORDING),
)  # fmt: skip
_BY_ENDING = {
    PICTURE: ".jpg .jpeg .png .gif .heic .heif .webp .bmp .tif .tiff .svg",
    PDF: ".pdf",
    DOCUMENT: ".doc .docx .odt .rtf .pages",
    OLD_WORKBOOK: ".xls .xlsb .numbers .fods",
    SLIDES: ".ppt .pptx .odp .key",
    RECORDING: ".mp3 .mp4 .m4a .mov .avi .wav .ogg .webm",
    PACKED: ".7z .rar .gz .tar .tgz .xz .bz2",
    WEB_PAGE: ".html .htm .mht .mhtml",
    SHORTCUT: ".url .lnk .webloc .gdoc .gsheet",
}
_ADVICE = {ending: said for said, endings in _BY_ENDING.items() for ending in endings.split()}


def advice(head: bytes, ending: str) -> str:
    """What a file is that is no text, and what to do; empty where it may well be text."""
    if head[4:8] == b"ftyp":
        return PICTURE if head[8:11] in (b"hei", b"mif", b"avi") else RECORDING
    if head.startswith(b"RIFF"):
        return PICTURE if head[8:12] == b"WEBP" else RECORDING
    for start, said in _BY_HEAD:
        if head.startswith(start) and not (start == b"BM" and b"\0" not in head[:64]):
            return said
    is_binary = head.startswith((b"PK\3\4", b"\xd0\xcf\x11\xe0")) or b"\0" in head
    if is_binary and not head.startswith((b"\xff\xfe", b"\xfe\xff")) and not without_mark(head):
        return _ADVICE.get(ending, NO_TEXT)
    return ""


def advice_by_ending(ending: str) -> str:
    """What a text is that is no hand-in, by its name; empty where the name says nothing."""
    return _ADVICE.get(ending, "")
