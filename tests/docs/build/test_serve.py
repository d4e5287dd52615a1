"""The server that comes with a site, without a browser; tests/site has it serve a class."""

import socket
import struct
import threading

from docs.build.serve import Handler, bound


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
