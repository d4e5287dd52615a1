"""What an author does wrong, and what a reader breaks off, end in a message or in nothing: no traceback."""

import socket
import struct
import threading

import pytest

from calc import composition
from calc.data_file import DataFileError
from docs.build import site
from docs.build.error import BuildError
from docs.build.serve import Handler, bound


def test_a_menu_line_indented_wrongly_is_told(tmp_path, monkeypatch):
    config = tmp_path / "site_config.yml"
    text = site.CONFIG.read_text("utf-8")
    config.write_text(
        text.replace("nav:\n  - Start", "nav:\n   - Mine: mine.md\n  - Start"), "utf-8"
    )
    monkeypatch.setattr(site, "CONFIG", config)
    with pytest.raises(BuildError, match=r"site_config.yml: (.|\n)*Indent each line"):
        site.build_site(tmp_path / "site")


def test_a_slip_in_the_table_of_ingredients_stops_the_build(tmp_path, monkeypatch):
    def broken():
        raise DataFileError("calc/data/ingredients.csv, line 2: as it is")

    monkeypatch.setattr(composition, "table", broken)
    with pytest.raises(BuildError, match="line 2: as it is"):
        site.build_site(tmp_path / "site")


def test_a_download_broken_off_prints_nothing(tmp_path, capfd):
    (tmp_path / "large.bin").write_bytes(bytes(20_000_000))
    ended = threading.Event()

    class Told(Handler):
        def __init__(self, *arguments):
            try:
                super().__init__(*arguments, directory=str(tmp_path))
            finally:
                ended.set()

    with bound(Told, port=0) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        with socket.create_connection(server.server_address) as reader:
            reader.sendall(b"GET /large.bin HTTP/1.0\r\n\r\n")
            reader.recv(100)
            # Closed at once, with what is on its way refused.
            reader.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        assert ended.wait(60)
        server.shutdown()
    # The server has waited for its threads.
    assert capfd.readouterr().err == ""
