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
QUIET["SDL_AUDIODRIVER"] = "dummy"


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
        """The six numbers of each whole line, oldest first; the witness's lines are no lamps."""
        lines = self.received.split(b"\n")[:-1]
        return [[int(level) for level in line.split(b",")] for line in lines
                if not line.startswith(b"#")]

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
        for wrong in (["--reader", "odd"], ["--for", "10"], ["--seed", "x"], ["--unheard-of"],
                      ["--weather", "hail"], ["--attract", "soon"]):
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

    def test_sound_and_every_weather_are_no_reason_to_end(self):
        for weather in ("clear", "rain", "fog", "snow"):
            done = run("--for", "300ms", "--weather", weather, "--sound")
            self.assertEqual((done.returncode, done.stderr), (0, ""), weather)

    def test_without_a_sound_card_it_plays_on_and_says_so(self):
        done = run("--headless", "--for", "300ms", "--sound", SDL_AUDIODRIVER="no-such-driver")
        self.assertEqual(done.returncode, 0)
        self.assertIn("no sound: ", done.stderr)

    def test_left_alone_it_drives_itself(self):
        done = run("--headless", "--for", "2500ms", "--attract", "200ms")
        self.assertIn("the tram drives itself", done.stdout)
        done = run("--headless", "--for", "2500ms", "--attract", "0s")
        self.assertNotIn("the tram drives itself", done.stdout)

    def test_a_box_that_hangs_is_stale_and_drives_again_when_it_speaks(self):
        box = Box()
        game = subprocess.Popen([GAME, "--headless"], stdout=subprocess.PIPE, text=True,
                                env=dict(QUIET, UNDERSTUDY_TCP=box.address))
        try:
            box.accept()
            lit = lambda lamps: lamps and len(lamps[-1]) == 6
            for words in ("panel fresh", "panel stale", "panel fresh"):
                end = time.monotonic() + LIMIT_S
                line = ""
                while words not in line and time.monotonic() < end:
                    if words == "panel fresh":  # a second's worth, for the next line of status
                        for _ in range(60):
                            box.say(b"512,300,0,0,0\n")
                    line = game.stdout.readline()
                self.assertIn(words, line)
            self.assertTrue(lit(box.lamps()))
        finally:
            game.kill()
            game.wait()
            game.stdout.close()
            box.close()

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
            self.assertEqual(box.lamps()[-1], [0, 0, 0, 0, 0, 0])
        finally:
            game.kill()
            game.wait()
            box.close()


if __name__ == "__main__":
    unittest.main()
