# Panel reader for Python 3.8 and newer: one file to copy beside a game that is played on a panel of
# buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") over a serial port or TCP;
# other line shapes are left to the game. The same reader exists in C++ and C#.
# SPDX-License-Identifier: 0BSD  (use, change and pass on freely; no notice needed, no warranty)
#
#   panel = PanelReader(5, "/dev/ttyACM0")  # 5 numbers a line; or "COM5", "127.0.0.1:7000"; or no
#   while running:                          # address: UNDERSTUDY_PORT, else UNDERSTUDY_TCP
#       panel.poll()                        # once a frame; takes all lines that came, never waits
#       if panel.state() != "fresh": speed = 0           # "stale" or "silent": neutral
#       else: speed = panel.value(0) / 1023              # the newest value of the first field
#       for _ in range(panel.pressed(2)): ring()         # a press between frames is not lost
#       panel.set_lamps([255, 255 if door_open else 0])  # sent on change and every 0.5 s
#   panel.close()                           # sends all lamps 0 and closes
import os, re, select, socket, struct, time
from contextlib import suppress
from types import SimpleNamespace

LINE_MAX, READS_MAX, RETRY_S, REFRESH_S = 255, 16, 0.5, 0.5

class PanelReader:
    def __init__(self, fields, where=""):
        self.baud = 115200  # change both before the first poll, if at all
        self.stale_after_ms = 250  # a hung box keeps its port open: stale means hands off
        self.good_lines = self.bad_lines = 0  # bad: wrong field count, or not whole numbers
        self.trouble = ""  # why there is no connection; empty when there is one
        self._where = where or os.getenv("UNDERSTUDY_PORT") or os.getenv("UNDERSTUDY_TCP")
        self._where = self._where or "no address and no UNDERSTUDY_PORT"
        self._values, self._active_low, self._lamps = [0] * fields, [False] * fields, []
        self._pressed, self._released = [0] * fields, [0] * fields
        self._shape = re.compile(b",".join([rb"-?[0-9]+"] * fields))
        self._port, self._last_try, self._last_sent, self._last_good = None, -RETRY_S, 0.0, None
        self._joining, self._line, self._outgoing, self._sent = False, b"", b"", b""

    def active_low(self, field): self._active_low[field] = True  # a button that sends 0 when down
    def value(self, field): return self._values[field]  # 0 until the first good line
    def down(self, field): return (self._values[field] == 0) == self._active_low[field]
    def pressed(self, field): return self._pressed[field]  # edges in all the lines
    def released(self, field): return self._released[field]  # that the last poll took
    def set_lamps(self, lamps): self._lamps = list(lamps)

    def state(self):  # silent: no good line on this connection yet
        if self._last_good is None:
            return "silent"
        old = time.monotonic() - self._last_good > self.stale_after_ms / 1000
        return "stale" if old else "fresh"

    def poll(self):  # connects if need be, takes all that arrived, sends lamps
        self._pressed, self._released = [0] * len(self._values), [0] * len(self._values)
        if self._port is None and time.monotonic() - self._last_try < RETRY_S:
            return
        try:
            if self._port is None:
                self._open()
            for _, data in zip(range(READS_MAX), iter(self._port.read, None)):
                if not data:
                    raise OSError("closed by the panel")
                self.feed(data)
            self._send_lamps()
        except (OSError, ValueError, OverflowError) as error:
            self._drop(error)

    def feed(self, data):  # takes bytes that came another way than by the port
        *lines, rest = (self._line + data).split(b"\n")
        for line in lines:
            if self._joining:
                self._joining = False  # of the first line we have but the end
            elif len(line) <= LINE_MAX and self._take_line(line):
                self.good_lines += 1
            else:
                self.bad_lines += 1
        self._line = rest[:LINE_MAX + 1]  # one too many: a bad line

    def close(self):
        self._lamps = [0] * len(self._lamps)
        with suppress(Exception):  # it may be gone already
            if self.state() == "fresh":
                self._send_lamps()
            elif self._port:
                self._port.discard()  # a hung box would hold closing up
        self._drop("closed")

    def _drop(self, why):
        self.trouble = "%s: %s" % (self._where, why)
        if self._port:
            self._port.close()
        self._port = self._last_good = None

    def _open(self):
        self._last_try, self._joining = time.monotonic(), True
        self._line = self._outgoing = self._sent = b""
        is_tcp = ":" in self._where and "/" not in self._where
        self._port = open_tcp(self._where) if is_tcp else open_serial(self._where, self.baud)
        self.trouble = ""

    def _take_line(self, line):
        line = line[:-1] if line.endswith(b"\r") else line
        numbers = [int(text) for text in line.split(b",")] if self._shape.fullmatch(line) else []
        if not numbers or min(numbers) < -2**31 or max(numbers) >= 2**31:
            return False
        before, self._values, self._last_good = self._values, numbers, time.monotonic()
        for field, old in enumerate(before):
            if self.good_lines and (old == 0) != (numbers[field] == 0):
                (self._pressed if self.down(field) else self._released)[field] += 1
        return True

    def _send_lamps(self):
        line = ",".join("%d" % lamp for lamp in self._lamps).encode()
        due = line and (line != self._sent or time.monotonic() - self._last_sent >= REFRESH_S)
        if due and self._last_good and not self._outgoing:  # bytes can upset a board that boots
            self._sent, self._outgoing, self._last_sent = line, line + b"\n", time.monotonic()
        if self._outgoing:
            with suppress(BlockingIOError):  # else the rest goes next time
                self._outgoing = self._outgoing[self._port.write(self._outgoing):]

def open_serial(path, baud):
    try:
        import fcntl, termios
    except ImportError:  # Windows
        import serial
        port = serial.Serial(path, baud, timeout=0, write_timeout=0)
        return SimpleNamespace(read=lambda: port.read(4096) or None, write=port.write,
                               discard=port.reset_output_buffer, close=port.close)
    file = os.open(path, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
    try:
        control = termios.tcgetattr(file)[6]
        control[termios.VMIN], control[termios.VTIME] = 1, 0
        flags, speed = termios.CS8 | termios.CLOCAL | termios.CREAD, getattr(termios, "B%d" % baud)
        termios.tcsetattr(file, termios.TCSANOW, [0, 0, flags, 0, speed, speed, control])
        termios.tcflush(file, termios.TCIFLUSH)  # what waited before us is old
    except (termios.error, AttributeError) as error:
        os.close(file)
        raise OSError(error)
    with suppress(OSError):  # many boards wait for DTR; fails where there is none
        fcntl.ioctl(file, termios.TIOCMBIS, struct.pack("i", termios.TIOCM_DTR | termios.TIOCM_RTS))
    return SimpleNamespace(
        read=lambda: os.read(file, 4096) if select.select([file], [], [], 0)[0] else None,
        write=lambda data: os.write(file, data), close=lambda: os.close(file),
        discard=lambda: termios.tcflush(file, termios.TCOFLUSH))

def open_tcp(where):
    host, port = where.replace("localhost", "127.0.0.1").split(":")
    address = socket.inet_ntoa(socket.inet_aton(host)), int(port)  # no names: a look-up may wait
    link = socket.socket()
    link.setblocking(False)
    link.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    link.connect_ex(address)  # once it is refused, read() says so
    return SimpleNamespace(
        read=lambda: link.recv(4096) if any(select.select([link], [], [link], 0)) else None,
        write=link.send, discard=lambda: None, close=link.close)
