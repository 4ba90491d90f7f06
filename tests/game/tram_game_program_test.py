# The program tram-game as its user meets it: options, ends, and a small box on TCP that it must
# answer and leave dark. Keeps to real time, so every limit here is a generous one.
import os
import signal
import socket
import subprocess
import time
import unittest

GAME = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "tram-game")
LIMIT_S = 30
# A panel that happens to be named outside must not be played on.
QUIET = {k: v for k, v in os.environ.items() if k not in ("UNDERSTUDY_PORT", "UNDERSTUDY_TCP")}
QUIET["SDL_VIDEODRIVER"] = "dummy"


def run(*arguments, **more):
    environment = dict(QUIET, **more)
    return subprocess.run([GAME, *arguments], env=environment, capture_output=True, text=True,
                          timeout=LIMIT_S, check=False)


class Box:
    """A box on TCP: sends what the test says, keeps every line the game sends."""

    def __init__(self):
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.listener.settimeout(LIMIT_S)
        self.address = "127.0.0.1:%d" % self.listener.getsockname()[1]
        self.received = b""

    def accept(self):
        self.link, _ = self.listener.accept()
        self.link.settimeout(0.02)

    def say(self, line):
        """Sends a line, then listens for about one loop of a board."""
        self.link.sendall(line)
        try:
            self.received += self.link.recv(4096)
        except TimeoutError:
            pass

    def say_until(self, line, wanted):
        end = time.monotonic() + LIMIT_S
        while not wanted(self.lamps()) and time.monotonic() < end:
            self.say(line)
        return wanted(self.lamps())

    def lamps(self):
        """The four levels of each whole line, oldest first."""
        lines = self.received.split(b"\n")[:-1]
        return [[int(level) for level in line.split(b",")] for line in lines]

    def listen_to_the_end(self):
        self.link.settimeout(LIMIT_S)
        try:
            while part := self.link.recv(4096):
                self.received += part
        except ConnectionResetError:
            pass  # the game left lines of ours unread, which is its right at the end

    def close(self):
        self.link.close()
        self.listener.close()


class TramGame(unittest.TestCase):
    def test_help_is_no_error_and_wrong_arguments_are_status_2(self):
        self.assertEqual(run("--help").returncode, 0)
        for wrong in (["--reader", "odd"], ["--for", "10"], ["--seed", "x"], ["--unheard-of"]):
            self.assertEqual(run(*wrong).returncode, 2, wrong)

    def test_without_a_panel_it_plays_and_says_so(self):
        done = run("--headless", "--for", "2500ms")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("panel absent (no panel was named)", done.stdout)

    def test_a_port_that_is_missing_is_named_and_survived(self):
        done = run("--headless", "--for", "2500ms", UNDERSTUDY_PORT="/nowhere/tty")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("/nowhere/tty: No such file or directory", done.stdout)

    def test_the_window_draws_without_a_graphics_card(self):
        done = run("--for", "1s", "--seed", "3")
        self.assertEqual(done.returncode, 0, done.stderr)

    def test_a_doors_press_lights_the_lamp_and_the_end_leaves_all_dark(self):
        box = Box()
        game = subprocess.Popen([GAME, "--headless"], stdout=subprocess.DEVNULL,
                                env=dict(QUIET, UNDERSTUDY_TCP=box.address))
        try:
            box.accept()
            one_lit = lambda lamps: lamps and sum(level > 0 for level in lamps[-1][:3]) == 1
            self.assertTrue(box.say_until(b"200,300,0,0,0\n", one_lit), "one signal lamp lit")
            box.say(b"200,300,0,1,0\n")
            self.assertTrue(box.say_until(b"200,300,0,0,0\n", lambda lamps: lamps[-1][3] > 0))
            game.send_signal(signal.SIGTERM)
            box.listen_to_the_end()
            self.assertEqual(game.wait(LIMIT_S), 0)
            self.assertEqual(box.lamps()[-1], [0, 0, 0, 0])
        finally:
            game.kill()
            game.wait()
            box.close()


if __name__ == "__main__":
    unittest.main()
