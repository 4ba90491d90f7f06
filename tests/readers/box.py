# A box for tests of readers: the other end of a pseudo-terminal or of a TCP connection, which a
# script makes speak, fall silent, choke and vanish. It knows nothing of panels, only of bytes.
import os
import select
import socket
import termios
import time
import tty


class PtyBox:
    """A pseudo-terminal, reached by a link that keeps its name when the box is plugged in again."""

    kind = "pty"

    def __init__(self, folder):
        self.address = os.path.join(folder, "port")
        self.master = self.kept = None

    def plug_in(self):
        self.master, self.kept = os.openpty()
        tty.setraw(self.kept)
        os.set_blocking(self.master, False)
        fresh = self.address + ".new"
        os.symlink(os.ttyname(self.kept), fresh)
        os.replace(fresh, self.address)

    def unplug(self):
        os.unlink(self.address)
        os.close(self.kept)
        os.close(self.master)
        self.master = None

    def write(self, data):
        return os.write(self.master, data)

    def read(self):
        return os.read(self.master, 4096) if select.select([self.master], [], [], 0)[0] else b""

    def clog(self):
        """Fills the way to the box, as one does that no longer reads."""
        os.set_blocking(self.kept, False)
        try:
            while True:
                os.write(self.kept, b"\n" * 512)
        except BlockingIOError:
            pass


class TcpBox:
    """The same as a listening socket of loopback."""

    kind = "tcp"

    def __init__(self, _folder):
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.address = "127.0.0.1:%d" % self.port
        self.listener = self.link = None

    def plug_in(self):
        self.listener = socket.create_server(("127.0.0.1", self.port))
        self.listener.settimeout(3)

    def _game(self):
        if self.link is None:
            self.link, _ = self.listener.accept()
            self.link.setblocking(False)
        return self.link

    def unplug(self):
        self._game().close()
        self.listener.close()
        self.link = None

    def write(self, data):
        return self._game().send(data)

    def read(self):
        return self._game().recv(4096) if select.select([self._game()], [], [], 0)[0] else b""


def send_paced(box, data, piece_bytes=5, pause_s=0.0005):
    """Sends as a serial line does: a few bytes at a time."""
    for at in range(0, len(data), piece_bytes):
        box.write(data[at:at + piece_bytes])
        time.sleep(pause_s)
