# A stage for the window: a virtual X display, the real program on it, a mouse and keys by xdotool,
# and a game at its port. What is tried is each test's own.
import atexit
import json
import os
import select
import shutil
import signal
import subprocess
import tempfile
import termios
import time

BUILD = os.environ["UNDERSTUDY_BUILD_ROOT"]
SOURCE = os.environ["UNDERSTUDY_SOURCE_ROOT"]
PROGRAM = os.path.join(BUILD, "understudy")
TRAM = os.path.join(SOURCE, "scenarios/tram/tram.panel.toml")


def wait_until(what, seconds, look, pause=0.03):
    """What look() gives as soon as it is true; fails after so many seconds."""
    end = time.monotonic() + seconds
    while True:
        seen = look()
        if seen:
            return seen
        if time.monotonic() > end:
            raise AssertionError(f"{what}: not within {seconds} s")
        time.sleep(pause)


class Picture:
    """Pixels of the display, as a portable pixmap has them."""

    def __init__(self, ppm):
        head = ppm.split(b"\n", 3)
        assert head[0] == b"P6" and head[2] == b"255", ppm[:40]
        self.width, self.height = map(int, head[1].split())
        self.data = head[3]

    def at(self, x, y):
        place = 3 * (int(y) * self.width + int(x))
        return tuple(self.data[place : place + 3])

    def luminance(self, x, y):
        """Relative luminance of a pixel: WCAG 2.2, definition of relative luminance."""
        linear = []
        for byte in self.at(x, y):
            share = byte / 255
            linear.append(share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4)
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    def mean_luminance(self, box):
        left, top, right, bottom = (int(side) for side in box)
        seen = [
            self.luminance(x, y)
            for y in range(max(0, top), min(self.height, bottom))
            for x in range(max(0, left), min(self.width, right))
        ]
        return sum(seen) / len(seen)

    def differs(self, other, box):
        """How many pixels of the box are not the same."""
        left, top, right, bottom = (int(side) for side in box)
        rows = range(max(0, top), min(self.height, bottom))
        return sum(
            self.at(x, y) != other.at(x, y)
            for y in rows
            for x in range(max(0, left), min(self.width, right))
        )


class Game:
    """A game's end of the port: raw, non-blocking, cut into lines."""

    def __init__(self, path):
        self.descriptor = os.open(path, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
        settings = termios.tcgetattr(self.descriptor)
        settings[0] = settings[1] = settings[3] = 0
        settings[4] = settings[5] = termios.B115200
        termios.tcsetattr(self.descriptor, termios.TCSANOW, settings)
        self.part = b""
        self.lines = []

    def read(self, seconds=0.0):
        """Whole lines that came since the last call, waiting so long for more."""
        end = time.monotonic() + seconds
        before = len(self.lines)
        while True:
            left = max(0.0, end - time.monotonic())
            if select.select([self.descriptor], [], [], left)[0]:
                try:
                    self.part += os.read(self.descriptor, 4096)
                except BlockingIOError:  # select() may be early
                    continue
                *whole, self.part = self.part.split(b"\n")
                self.lines += [line.decode("ascii", "replace") for line in whole]
            elif left == 0.0:
                return self.lines[before:]

    def numbers(self):
        """The newest line of numbers alone; nothing where there was none yet."""
        self.read()
        for line in reversed(self.lines):
            try:
                return [int(word) for word in line.split(",")]
            except ValueError:
                continue
        return None

    def send(self, line):
        os.write(self.descriptor, (line + "\n").encode())

    def close(self):
        os.close(self.descriptor)


class Display:
    """Xvfb on a display of its own, and the mouse and keys there."""

    def __init__(self, width=1280, height=800):
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", "1", "-screen", "0", f"{width}x{height}x24", "-nolisten", "tcp"],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
        atexit.register(self.close)
        self.name = ":" + self.server.stdout.readline().decode().strip()
        assert self.name != ":", "no Xvfb"

    def close(self):
        self.server.kill()
        self.server.wait()

    def do(self, *words):
        """xdotool, whose commands may be chained."""
        environment = dict(os.environ, DISPLAY=self.name)
        return subprocess.run(
            ["xdotool", *map(str, words)], env=environment, check=True, capture_output=True,
            text=True
        ).stdout

    def windows(self, name):
        """Windows whose title has `name` in it."""
        found = subprocess.run(["xdotool", "search", "--name", name], capture_output=True,
                               text=True, env=dict(os.environ, DISPLAY=self.name), check=False)
        return found.stdout.split()

    def drag(self, start, end, steps=12, pause=0.02):
        self.do("mousemove", round(start[0]), round(start[1]))
        time.sleep(0.1)
        self.do("mousedown", 1)
        for step in range(1, steps + 1):
            x = start[0] + (end[0] - start[0]) * step / steps
            y = start[1] + (end[1] - start[1]) * step / steps
            self.do("mousemove", round(x), round(y))
            time.sleep(pause)
        self.do("mouseup", 1)

    def click(self, place, button=1):
        self.do("mousemove", round(place[0]), round(place[1]))
        time.sleep(0.1)
        self.do("mousedown", button)
        time.sleep(0.08)
        self.do("mouseup", button)

    def picture(self):
        environment = dict(os.environ, DISPLAY=self.name)
        ppm = subprocess.run(
            ["import", "-window", "root", "-depth", "8", "ppm:-"],
            env=environment,
            check=True,
            capture_output=True,
        ).stdout
        return Picture(ppm)


class Stage:
    """The window with a panel on a display; ends both with the test."""

    def __init__(self, display, panel=TRAM, arguments=(), game=(), home=None, env=None,
                 links=True):
        """Without `links` for a recording, which has none."""
        self.display = display
        self.home = home or tempfile.mkdtemp(prefix="understudy-window-")
        self.places_file = os.path.join(self.home, "places.json")
        environment = dict(
            os.environ,
            DISPLAY=display.name,
            HOME=self.home,
            XDG_CONFIG_HOME=os.path.join(self.home, "config"),
            XDG_RUNTIME_DIR=self.home,
            SDL_VIDEODRIVER="x11",
            UNDERSTUDY_WINDOW_PLACES=self.places_file,
            **(env or {}),
        )
        environment.pop("WAYLAND_DISPLAY", None)
        self.errors = open(os.path.join(self.home, "errors.txt"), "w+", encoding="utf-8")
        self.program = subprocess.Popen(
            [PROGRAM, "panel", panel, *(["--tcp", "0"] if links else []), *arguments,
             *(["--", *game] if game else [])],
            env=environment,
            stdout=subprocess.PIPE,
            stderr=self.errors,
            stdin=subprocess.DEVNULL,
            text=True,
        )
        atexit.register(self.close)
        if links:
            ready = self.program.stdout.readline()
            assert ready.startswith("ready "), (ready, self.said())
            self.ready = dict(word.split("=", 1) for word in ready.split()[1:])
        wait_until("the window", 20, lambda: os.path.exists(self.places_file))
        wait_until("its places", 10, lambda: self.places().get("parts"))

    def said(self):
        self.errors.flush()
        with open(self.errors.name, encoding="utf-8") as file:
            return file.read()

    def places(self):
        """Where things are on the display, by kind and name, as [left, top, right, bottom]."""
        try:
            with open(self.places_file, encoding="utf-8") as file:
                return json.load(file)
        except (FileNotFoundError, ValueError):
            return {}

    def box(self, kind, name):
        boxes = wait_until(f"{kind} {name}", 5, lambda: name in self.places().get(kind, {}) and
                           self.places()[kind])
        return boxes[name]

    def middle(self, kind, name):
        left, top, right, bottom = self.box(kind, name)
        return ((left + right) / 2, (top + bottom) / 2)

    def game(self):
        return Game(self.ready["pty"])

    def running(self):
        return self.program.poll() is None

    def memory_kb(self):
        with open(f"/proc/{self.program.pid}/status", encoding="ascii") as file:
            for line in file:
                if line.startswith("VmRSS:"):
                    return int(line.split()[1])
        return 0

    def cpu_seconds(self):
        with open(f"/proc/{self.program.pid}/stat", encoding="ascii") as file:
            words = file.read().rsplit(")", 1)[1].split()
        return (int(words[11]) + int(words[12])) / os.sysconf("SC_CLK_TCK")

    def end(self):
        """Asks it to end as a person's ctrl-C would; gives its status."""
        if self.running():
            self.program.send_signal(signal.SIGINT)
        return self.program.wait(10)

    def close(self):
        if self.running():
            self.program.kill()
            self.program.wait()
        self.errors.close()
        shutil.rmtree(self.home, ignore_errors=True)


def hold_to(claims):
    """Checks every claim, a function of the stage and its game, at one window with the tram; the
    program's status."""
    stage = Stage(Display())
    game = stage.game()
    wait_until("lines at the port", 10, game.numbers)
    failed = 0
    for claim in claims:
        try:
            claim(stage, game)
            print("ok:", claim.__name__)
        except (AssertionError, TypeError, KeyError) as what:
            failed += 1
            print("FAILED:", claim.__name__, what)
            stage.display.do("key", "Escape")  # no card is left open for the next
    assert stage.running(), stage.said()
    game.close()
    return 1 if failed else stage.end() not in (0, 130)
