"""A small load of keep-alive connections on loopback, and the requests per second it saw."""

import selectors
import socket
import time
from dataclasses import dataclass, field

CHUNK = 262_144


@dataclass
class Connection:
    """One keep-alive connection: what has come of the present reply."""

    sock: socket.socket
    got: bytearray = field(default_factory=bytearray)
    sent_at: float = 0.0

    def send(self, request: bytes) -> None:
        self.got.clear()
        self.sent_at = time.perf_counter()
        self.sock.sendall(request)

    def complete(self) -> bool:
        """True when the whole reply is here; anything but 200 is an error of the benchmark."""
        end = self.got.find(b"\r\n\r\n")
        if end < 0:
            return False
        head = bytes(self.got[:end]).lower()
        if b" 200 " not in head.split(b"\r\n")[0]:
            raise RuntimeError(head.decode(errors="replace"))
        length = int(head.split(b"content-length:")[1].split(b"\r\n")[0])
        return len(self.got) >= end + 4 + length


def request_bytes(path: str, body: bytes = b"", cookie: str = "") -> bytes:
    """A ready HTTP/1.1 request: GET without a body, POST of JSON with one and a machine's token.

    cookie: what the browser of somebody who is signed in sends along.
    """
    head = f"{'POST' if body else 'GET'} {path} HTTP/1.1\r\nHost: 127.0.0.1\r\n"
    head += f"Cookie: {cookie}\r\n" * bool(cookie)
    if body:
        head += "Authorization: Bearer demo\r\n"
        head += f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\n"
    return head.encode() + b"\r\n" + body


@dataclass(frozen=True)
class Seen:
    """What a load saw: requests per second and the 99th percentile of waiting, ms."""

    per_second: float
    p99_ms: float


def load(port: int, request: bytes, *, seconds: float, connections: int = 8) -> Seen:
    """Send one request over and over on every connection for so long."""
    chooser = selectors.DefaultSelector()
    for _ in range(connections):
        connection = Connection(socket.create_connection(("127.0.0.1", port)))
        chooser.register(connection.sock, selectors.EVENT_READ, connection)
        connection.send(request)
    waits: list[float] = []
    started = time.perf_counter()
    while (now := time.perf_counter()) - started < seconds:
        for key, _ in chooser.select(timeout=seconds):
            connection = key.data
            part = connection.sock.recv(CHUNK)
            if not part:
                raise RuntimeError("the server closed a connection")
            connection.got += part
            if connection.complete():
                waits.append(time.perf_counter() - connection.sent_at)
                connection.send(request)
    for key in list(chooser.get_map().values()):
        # The last reply is waited for, so that the server sees no broken connection.
        while not key.data.complete():
            key.data.got += key.data.sock.recv(CHUNK)
        key.data.sock.close()
    waits.sort()
    return Seen(len(waits) / (now - started), waits[int(len(waits) * 0.99)] * 1000)
