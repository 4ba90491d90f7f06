"""`understudy panel` from outside: what it says where there is no window to be had, its arguments,
its statuses under Xvfb, what becomes of its game, and pictures that are the same each time. What is
drawn is tested in tests/window and tests/sim/window."""

import ctypes
import os
import re
import select
import signal
import socket
import subprocess
import tempfile
import time
import unittest

PROGRAM = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")
TRAM = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios/tram/tram.panel.toml")
PATIENCE_S = 30  # machines are busy; nothing here waits so long when all is well


def environment(**more):
    """Without any display but one that is named. What the display's own libraries leak (the message
    bus's, a graphics driver's) is not ours; the window's parts are looked through for leaks by its
    tests without a display."""
    kept = {name: value for name, value in os.environ.items()
            if name not in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")}
    options = ":".join(filter(None, (kept.get("ASAN_OPTIONS"), "detect_leaks=0")))
    return {**kept, "ASAN_OPTIONS": options, **more}


def run(*words, **more):
    done = subprocess.run([PROGRAM, "panel", *words], stdin=subprocess.DEVNULL,
                          capture_output=True, text=True, timeout=PATIENCE_S, check=False,
                          env=environment(**more))
    return done.returncode, done.stdout, done.stderr


class NoWindowTest(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = folder.name

    def test_without_a_display_it_names_serve_and_opens_no_link(self):
        port = os.path.join(self.folder, "port")
        status, out, err = run(TRAM, "--tcp", "0", "--pty", port)
        self.assertEqual((status, out), (3, ""))
        self.assertRegex(err, r"^understudy panel: .*display.*serve")
        self.assertNotIn("the serial port's name", err)
        self.assertFalse(os.path.lexists(port))

    def test_a_display_that_does_not_answer_is_none(self):
        status, out, err = run(TRAM, "--tcp", "0", DISPLAY=":4242")
        self.assertEqual((status, out), (3, ""))
        self.assertIn("serve", err)

    def test_a_library_that_cannot_be_loaded_is_told_before_anything_is_opened(self):
        with open(os.path.join(self.folder, "libSDL2-2.0.so.0"), "wb"):
            pass
        status, out, err = run(TRAM, LD_LIBRARY_PATH=self.folder)
        self.assertEqual((status, out), (3, ""))
        self.assertRegex(err, "SDL 2 .*libsdl2-2.0-0.*serve")

    def test_mistakes_are_told_before_the_display_is_looked_for(self):
        for words, told in (((TRAM, "--size", "3x3"), "such as 1280x720"),
                            ((TRAM, "--size", "800"), "such as 1280x720"),
                            ((TRAM, "--scale", "9"), "from 0.5 to 4"),
                            ((TRAM, "--scale", "nan"), "from 0.5 to 4"),
                            ((TRAM, "--hand", "bel down"), "the nearest is 'bell'"),
                            ((TRAM, "--hand", ""), "no movement is said"),
                            ((TRAM, "--no-pty", "--no-tcp"), "no way in"),
                            (("no.panel.toml",), "no.panel.toml")):
            status, out, err = run(*words)
            self.assertEqual((status, out), (2, ""), words)
            self.assertIn(told, err)

    def test_a_picture_needs_no_display_and_is_the_same_each_time(self):
        names = [os.path.join(self.folder, name) for name in ("one.png", "again.png", "other.png")]
        for name, words in zip(names, (["--hand", "bell down"], ["--hand", "bell down"],
                                       ["--hand", "power to 90%"])):
            status, out, err = run(TRAM, "--size", "640x400", "--picture", name, *words)
            self.assertEqual((status, out), (0, ""), err)
        pictures = []
        for name in names:
            with open(name, "rb") as file:
                pictures.append(file.read())
        # PNG, third edition, 5.2 and 11.2.1: signature, then IHDR with width and height.
        self.assertEqual(pictures[0][:8], b"\x89PNG\r\n\x1a\n")
        self.assertEqual(pictures[0][16:24], (640).to_bytes(4, "big") + (400).to_bytes(4, "big"))
        self.assertEqual(pictures[0], pictures[1])

    def test_a_picture_that_cannot_be_written_is_an_error(self):
        place = os.path.join(self.folder, "no", "such", "folder.png")
        status, _, err = run(TRAM, "--picture", place)
        self.assertEqual(status, 2)
        self.assertIn(place, err)

    def test_with_a_game_the_picture_is_of_the_game(self):
        place = os.path.join(self.folder, "game.png")
        status, out, err = run(TRAM, "--tcp", "0", "--no-pty", "--for", "300ms", "--picture", place,
                               "--", "sh", "-c", "echo it plays; exec sleep 60")
        self.assertEqual(status, 0, err)
        self.assertTrue(out.startswith("ready seat=tram tcp="))
        self.assertIn("game: it plays", err)
        self.assertTrue(os.path.getsize(place) > 0)


class ClientMessage(ctypes.Structure):
    """XClientMessageEvent of Xlib.h, and the rest of the union XEvent, 24 longs in all."""
    _fields_ = [("type", ctypes.c_int), ("serial", ctypes.c_ulong), ("send_event", ctypes.c_int),
                ("display", ctypes.c_void_p), ("window", ctypes.c_ulong), ("kind", ctypes.c_ulong),
                ("format", ctypes.c_int), ("data", ctypes.c_long * 5),
                ("rest", ctypes.c_long * 12)]


class Panel:
    """A window on a display; ended at the end of a `with`."""

    def __init__(self, display, *words):
        self.process = subprocess.Popen(
            [PROGRAM, "panel", TRAM, "--tcp", "0", *words], stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE,
            env=environment(DISPLAY=display, XDG_CONFIG_HOME="/nonexistent"))
        os.set_blocking(self.process.stdout.fileno(), False)
        self.out = b""

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.process.kill()
        self.process.communicate()

    def place(self):
        """Where its TCP port is, once it is ready."""
        until = time.monotonic() + PATIENCE_S
        while b"\n" not in self.out and time.monotonic() < until:
            if select.select([self.process.stdout], [], [], 0.1)[0]:
                piece = self.process.stdout.read()
                if piece == b"":
                    break
                self.out += piece or b""
        found = re.match(rb"ready seat=tram pty=\S+ tcp=([\d.]+):(\d+)\n", self.out)
        assert found, (self.out, self.process.poll())
        return found[1].decode(), int(found[2])

    def finish(self, number=None):
        if number is not None:
            self.process.send_signal(number)
        _, err = self.process.communicate(timeout=PATIENCE_S)
        return self.process.returncode, err.decode()


class WindowTest(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.server = subprocess.Popen(
            ["Xvfb", "-displayfd", "1", "-screen", "0", "1280x800x24", "-nolisten", "tcp"],
            stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
        cls.display = ":" + cls.server.stdout.readline().decode().strip()

    @classmethod
    def tearDownClass(cls):
        cls.server.terminate()
        cls.server.wait()
        cls.server.stdout.close()

    def window_of(self, panel):
        """The number of its window, once it is there to stay: SDL may make another for drawing."""
        before, until = "", time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            found = subprocess.run(
                ["xdotool", "search", "--onlyvisible", "--pid", str(panel.process.pid)],
                env=environment(DISPLAY=self.display), capture_output=True, text=True, check=False)
            if found.stdout and found.stdout == before:
                return found.stdout.split()[-1]
            before = found.stdout
            time.sleep(0.3)
        self.fail("no window came up")

    def test_signals_end_it_with_their_statuses(self):
        for number, status in ((signal.SIGINT, 130), (signal.SIGTERM, 143)):
            with Panel(self.display) as panel:
                panel.place()
                self.window_of(panel)
                self.assertEqual(panel.finish(number)[0], status)

    def test_its_time_ends_it_with_status_0(self):
        with Panel(self.display, "--for", "500ms") as panel:
            panel.place()
            status, err = panel.finish()
            self.assertEqual(status, 0)
            self.assertIn("played 0.5 s", err)

    def test_a_game_that_ends_does_not_end_it_and_closing_does_and_stops_the_game(self):
        with Panel(self.display, "--", "sh", "-c", "echo alas; exit 3") as panel:
            panel.place()
            window = self.window_of(panel)
            time.sleep(0.5)
            self.assertIsNone(panel.process.poll())
            self.close(window)
            status, err = panel.finish()
        self.assertEqual(status, 0)
        self.assertIn("game: alas", err)
        self.assertIn("the game ended with status 3", err)
        with Panel(self.display, "--", "sh", "-c", "echo $$; exec sleep 60") as panel:
            panel.place()
            self.close(self.window_of(panel))
            status, err = panel.finish()
        self.assertEqual(status, 0)
        game = int(re.search(r"game: (\d+)", err)[1])
        self.assertFalse(os.path.exists(f"/proc/{game}"))

    def close(self, window):
        """As a window manager asks for it: WM_DELETE_WINDOW (ICCCM 2.0, 4.2.8.1)."""
        x11 = ctypes.CDLL("libX11.so.6")
        x11.XOpenDisplay.restype = ctypes.c_void_p
        x11.XInternAtom.restype = ctypes.c_ulong
        x11.XInternAtom.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_int]
        x11.XSendEvent.argtypes = [ctypes.c_void_p, ctypes.c_ulong, ctypes.c_int, ctypes.c_long,
                                   ctypes.c_void_p]
        x11.XCloseDisplay.argtypes = [ctypes.c_void_p]
        display = x11.XOpenDisplay(self.display.encode())
        message = ClientMessage(type=33, window=int(window), format=32,
                                kind=x11.XInternAtom(display, b"WM_PROTOCOLS", 0))
        message.data[0] = x11.XInternAtom(display, b"WM_DELETE_WINDOW", 0)
        x11.XSendEvent(display, int(window), 0, 0, ctypes.byref(message))
        x11.XCloseDisplay(display)

    def test_hands_by_command_and_on_standard_input_are_obeyed(self):
        with Panel(self.display) as panel:
            with socket.create_connection(panel.place(), timeout=PATIENCE_S) as game:
                lines = game.makefile("rb")
                while not re.fullmatch(rb"\d+,\d+,[01],[01],[01]\n", lines.readline()):
                    pass
                done = subprocess.run([PROGRAM, "hand", "doors down", "--process",
                                       str(panel.process.pid)], check=False)
                self.assertEqual(done.returncode, 0)
                while lines.readline().split(b",")[3:4] != [b"1"]:
                    pass
                panel.process.stdin.write(b"bell down\n")
                panel.process.stdin.flush()
                while lines.readline().split(b",")[2:3] != [b"1"]:
                    pass
            self.assertEqual(panel.finish(signal.SIGTERM)[0], 143)


if __name__ == "__main__":
    unittest.main()
