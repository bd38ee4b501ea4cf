"""A meter that only sends: a line for each reading, all the time or at the press of its own key, on a loopback."""

import socket
import threading
from collections.abc import Callable
from contextlib import suppress


class SimulatedSender:
    """Sends what `says` gives every so many seconds, or where `every` is 0 at each `press`."""

    def __init__(self, says: Callable[[], str], *, every: float = 0.0) -> None:
        self._says, self._every = says, every
        self._over, self._pressed = threading.Event(), threading.Event()
        self._current: socket.socket | None = None
        self.sent: list[str] = []

    def start(self, port: int = 0) -> int:
        """Begin to listen on a loopback port; the port."""
        self._server = socket.create_server(("127.0.0.1", port))
        self._thread = threading.Thread(target=self._serve, name="simulated sender", daemon=True)
        self._thread.start()
        return int(self._server.getsockname()[1])

    def press(self) -> None:
        """Press its own key."""
        self._pressed.set()

    @property
    def has_listener(self) -> bool:
        """Whether anybody is connected."""
        return self._current is not None

    def stop(self) -> None:
        """Switch it off."""
        self._over.set()
        self._pressed.set()
        for one in (self._server, self._current):
            if one is not None:
                with suppress(OSError):
                    one.shutdown(socket.SHUT_RDWR)
                one.close()
        self._thread.join(timeout=5)

    def _serve(self) -> None:
        while not self._over.is_set():
            try:
                connection, _ = self._server.accept()
            except OSError:
                return
            self._current = connection
            with connection, suppress(OSError):
                self._send_to(connection)
            self._current = None

    def _send_to(self, connection: socket.socket) -> None:
        while not self._over.is_set():
            if self._pressed.wait(self._every or None) and self._over.is_set():
                return
            self._pressed.clear()
            line = self._says()
            connection.sendall(f"{line}\r\n".encode())
            self.sent.append(line)
