# Panel reader for Python 3.8 and newer: one file to copy beside a game that is played on a panel of
# buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") over a serial port or TCP;
# other line shapes are left to the game. The same reader exists in C++, C#, GDScript, Lua and
# JavaScript.
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
#
# A pot, slide or stick as the game wants it; without these calls axis() is value / 1023:
#   panel.calibrate(0, 12, 1010)            # the numbers at its two ends; axis(0) is 0 to 1
#   panel.smooth(0)                         # calm at rest, quick in motion
#   speed = panel.axis(0)
import math, os, re, select, socket, struct, time
from contextlib import contextmanager, suppress
from types import SimpleNamespace

LINE_MAX, READS_MAX, RETRY_S, REFRESH_S, WITNESS_S = 255, 16, 0.5, 0.5, 0.25

class OneEuro:
    """The One Euro filter (Casiez, Roussel and Vogel, CHI 2012): a low-pass filter whose cutoff
    rises with speed. Times in seconds; the first sample passes as it is."""

    def __init__(self, min_cutoff_hz=1.0, beta=0.0, rate_cutoff_hz=1.0):
        self.min_cutoff_hz, self.rate_cutoff_hz = min_cutoff_hz, rate_cutoff_hz
        self.beta = beta  # Hz more per unit a second
        self.value, self.rate, self._time_s = None, 0.0, None

    def filter(self, sample, now_s):
        if self.value is None:
            self.value, self._time_s = sample, now_s
        step_s = now_s - self._time_s
        if step_s > 0:
            speed = (sample - self.value) / step_s
            self.rate += self._share(self.rate_cutoff_hz, step_s) * (speed - self.rate)
            cutoff_hz = self.min_cutoff_hz + self.beta * abs(self.rate)
            self.value += self._share(cutoff_hz, step_s) * (sample - self.value)
            self._time_s = now_s
        return self.value

    @staticmethod
    def _share(cutoff_hz, step_s):
        return 1 / (1 + 1 / (2 * math.pi * cutoff_hz * step_s))

class PanelReader:
    def __init__(self, fields, where=""):
        self.baud = 115200  # change both before the first poll, if at all
        self.stale_after_ms = 250  # a hung box keeps its port open: stale means hands off
        self.good_lines = self.bad_lines = 0  # bad: wrong field count, or not whole numbers
        self.trouble = ""  # why there is no connection; empty when there is one
        self._where = where or os.getenv("UNDERSTUDY_PORT") or os.getenv("UNDERSTUDY_TCP")
        known = os.getenv("UNDERSTUDY_PORT"), os.getenv("UNDERSTUDY_TCP")
        self._witnessed = bool(self._where) and self._where in known
        self._where = self._where or "no address and no UNDERSTUDY_PORT"
        self._values, self._active_low, self._lamps = [0] * fields, [False] * fields, []
        self._pressed, self._released = [0] * fields, [0] * fields
        self._axes = [SimpleNamespace(low=0, high=1023, middle=None, dead=0, dead_ends=0, beta=0,
                                      learns=False, filter=None, now=0) for _ in range(fields)]
        self._shape = re.compile(b",".join([rb"-?[0-9]+"] * fields))
        self._port, self._last_try, self._last_good = None, -RETRY_S, None
        self._last_sent = self._last_seen = 0.0
        self._joining, self._line, self._outgoing, self._sent = False, b"", b"", b""

    def active_low(self, field): self._active_low[field] = True  # a button that sends 0 when down
    def value(self, field): return self._values[field]  # 0 until the first good line
    def down(self, field): return (self._values[field] == 0) == self._active_low[field]
    def pressed(self, field): return self._pressed[field]  # edges in all the lines
    def released(self, field): return self._released[field]  # that the last poll took
    def set_lamps(self, lamps): self._lamps = list(lamps)

    # What axis() makes of a field: 0 to 1 between the numbers that the box gives at its two ends
    # (low above high: reversed), or, once it has a middle, -1 to 1 with 0 there. Before the first
    # good line it is 0.
    def calibrate(self, field, low, high):
        self._axes[field].low, self._axes[field].high = low, high

    def centre(self, field, middle, dead=0):  # dead: this share of each side is 0 too
        self._axes[field].middle, self._axes[field].dead = middle, dead

    def dead_ends(self, field, dead): self._axes[field].dead_ends = dead  # this share is full too
    def learn_ends(self, field): self._axes[field].learns = True  # they widen to what comes

    def smooth(self, field, min_cutoff_hz=1.0, beta=5.0):  # beta: less lag in motion
        self._axes[field].filter, self._axes[field].beta = OneEuro(min_cutoff_hz), beta

    def axis(self, field):
        a = self._axes[field]
        if self.good_lines == 0:
            return 0.0
        if a.middle is None:
            return reach(a.now, a.low, a.high, a.dead_ends, a.dead_ends)
        return (reach(a.now, a.middle, a.high, a.dead, a.dead_ends)
                - reach(a.now, a.middle, a.low, a.dead, a.dead_ends))

    def witness(self, state, *numbers):
        """Tells Understudy what the game makes of its input, for tests: a word for what it is doing
        and the numbers it acts on. Call it once a frame; it speaks 4 times a second, and only to
        the address in UNDERSTUDY_PORT or UNDERSTUDY_TCP, never to a box."""
        now = time.monotonic()
        if not self._witnessed or not self._port or self._last_good is None or self._outgoing:
            return
        if now - self._last_seen < WITNESS_S:
            return
        with self._dropping():
            words = ["#seen", "%.0f" % ((now - self._last_good) * 1000), str(self._port.waiting()),
                     re.sub("[^!-~]", "_", state) or "-", *("%.10g" % number for number in numbers)]
            self._outgoing, self._last_seen = (" ".join(words) + "\n").encode(), now
            self._flush()

    def state(self):  # silent: no good line on this connection yet
        if self._last_good is None:
            return "silent"
        old = time.monotonic() - self._last_good > self.stale_after_ms / 1000
        return "stale" if old else "fresh"

    def poll(self):  # connects if need be, takes all that arrived, sends lamps
        self._pressed, self._released = [0] * len(self._values), [0] * len(self._values)
        if self._port is None and time.monotonic() - self._last_try < RETRY_S:
            return
        with self._dropping():
            if self._port is None:
                self._open()
            for _, data in zip(range(READS_MAX), iter(self._port.read, None)):
                if not data:
                    raise OSError("closed by the panel")
                self.feed(data)
            self._send_lamps()

    def feed(self, data, at_s=None):  # takes bytes that came another way, and when they came
        before = self.good_lines
        *lines, rest = (self._line + data).split(b"\n")
        for line in lines:
            if self._joining:
                self._joining = False  # of the first line we have but the end
            elif len(line) <= LINE_MAX and self._take_line(line):
                self.good_lines += 1
            else:
                self.bad_lines += 1
        self._line = rest[:LINE_MAX + 1]  # one too many: a bad line
        if self.good_lines > before:
            self._last_good = time.monotonic() if at_s is None else at_s
            self._follow()

    def close(self):
        self._lamps = [0] * len(self._lamps)
        with suppress(Exception):  # it may be gone already
            if self.state() == "fresh":
                self._send_lamps()
            elif self._port:
                self._port.discard()  # a hung box would hold closing up
        self._drop("closed")

    @contextmanager
    def _dropping(self):
        try:
            yield
        except (OSError, ValueError, OverflowError) as error:
            self._drop(error)

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
        before, self._values = self._values, numbers
        for field, (old, new) in enumerate(zip(before, numbers)):
            if self.good_lines and (old == 0) != (new == 0):
                (self._pressed if self.down(field) else self._released)[field] += 1
            a = self._axes[field]
            if a.learns:
                least, most = min(a.low, a.high, new), max(a.low, a.high, new)
                a.low, a.high = (most, least) if a.low > a.high else (least, most)
        return True

    def _follow(self):  # lines that came together count as one: the filter wants the time between
        for value, a in zip(self._values, self._axes):
            a.now = value
            if a.filter:
                a.filter.beta = a.beta / max(1, abs(a.high - a.low))
                a.now = a.filter.filter(value, self._last_good)

    def _send_lamps(self):
        self._flush()
        line, now = ",".join("%d" % lamp for lamp in self._lamps).encode(), time.monotonic()
        due = line and (line != self._sent or now - self._last_sent >= REFRESH_S)
        if due and self._last_good is not None and not self._outgoing:
            self._sent, self._outgoing, self._last_sent = line, line + b"\n", now
            self._flush()  # never before the first line: bytes can upset a board that boots

    def _flush(self):
        if self._outgoing:
            with suppress(BlockingIOError):  # else the rest goes next time
                self._outgoing = self._outgoing[self._port.write(self._outgoing):]

def reach(at, begin, end, dead_begin, dead_end):  # 0 to 1, without its dead ends
    begin, end = begin + dead_begin * (end - begin), end - dead_end * (end - begin)
    return 0.0 if begin == end else min(1.0, max(0.0, (at - begin) / (end - begin)))

def open_serial(path, baud):
    try:
        import fcntl, termios
    except ImportError:  # Windows
        import serial
        port = serial.Serial(path, baud, timeout=0, write_timeout=0)
        return SimpleNamespace(read=lambda: port.read(4096) or None, write=port.write,
                               discard=port.reset_output_buffer, close=port.close,
                               waiting=lambda: port.in_waiting)
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
        discard=lambda: termios.tcflush(file, termios.TCOFLUSH),
        waiting=lambda: struct.unpack("i", fcntl.ioctl(file, termios.FIONREAD, b"    "))[0])

def open_tcp(where):
    host, port = where.replace("localhost", "127.0.0.1").split(":")
    address = socket.inet_ntoa(socket.inet_aton(host)), int(port)  # no names: a look-up may wait
    link = socket.socket()
    link.setblocking(False)
    link.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    link.connect_ex(address)  # once it is refused, read() says so
    return SimpleNamespace(
        read=lambda: link.recv(4096) if any(select.select([link], [], [link], 0)) else None,
        write=link.send, discard=lambda: None, close=link.close, waiting=lambda: waiting_on(link))

def waiting_on(link):  # bytes that came and were not taken yet, as far as one read shows them
    with suppress(BlockingIOError):
        return len(link.recv(65536, socket.MSG_PEEK))
    return 0
