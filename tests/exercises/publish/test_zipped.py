"""Zips that are the same bytes each time."""

import io
import zipfile

from exercises.publish.zipped import FIXED_TIME, zipped

FILES = {"a/b.txt": b"bread " * 100, "c.zstd": b"packed already", "ü.html": "Brötchen".encode()}


def test_what_went_in_comes_out_in_its_order():
    with zipfile.ZipFile(io.BytesIO(zipped(FILES))) as read:
        assert {name: read.read(name) for name in read.namelist()} == FILES
        assert read.namelist() == list(FILES)
        assert {each.date_time for each in read.infolist()} == {FIXED_TIME}
        assert {each.external_attr >> 16 for each in read.infolist()} == {0o644}
        assert read.testzip() is None


def test_the_same_files_make_the_same_bytes():
    assert zipped(FILES) == zipped(dict(FILES))


def test_what_is_packed_already_is_stored():
    with zipfile.ZipFile(io.BytesIO(zipped(FILES))) as read:
        assert read.getinfo("c.zstd").compress_type == zipfile.ZIP_STORED
        assert read.getinfo("a/b.txt").compress_size < 60
