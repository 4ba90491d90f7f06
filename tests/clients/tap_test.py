"""`understudy tap` between a box and its game, in real time. The box is a served panel on a
pseudo-terminal, or plain bytes; socat and pyserial take box's and game's places.
  tap_test.py UNDERSTUDY"""

import os
import re
import select
import signal
import subprocess
import sys
import tempfile
import termios
import threading
import time
import tty
import unittest

from serving import ROOT, Recording, python_with_serial

PROGRAM = sys.argv.pop(1)
TRAM = os.path.join(ROOT, "scenarios/tram/tram.panel.toml")
INTERRUPTED = 130
PATIENCE_S = 20  # machines are busy; nothing here waits so long when all is well
LENGTH_S = float(os.environ.get("UNDERSTUDY_TAP_SECONDS", "5"))  # longer by hand


def until(done, patience_s=PATIENCE_S):
    end = time.monotonic() + patience_s
    while not done():
        if time.monotonic() > end:
            return False
        time.sleep(0.01)
    return True


class Running:
    """serve or tap; ended at the end of a `with`."""

    def __init__(self, *words):
        self.said = ""
        self.process = subprocess.Popen([PROGRAM, *words], stdin=subprocess.PIPE,
                                        stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        threading.Thread(target=self._listen, daemon=True).start()
        self.ready = self.process.stdout.readline().decode()
        found = re.search(r"pty=(\S+)", self.ready)
        self.port = found[1] if found else None

    def _listen(self):
        with self.process.stderr as words:
            for line in words:
                self.said += line.decode()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait()
        for pipe in (self.process.stdin, self.process.stdout):
            pipe.close()

    def say(self, words):
        self.process.stdin.write(words.encode() + b"\n")
        self.process.stdin.flush()

    def finish(self):
        self.process.send_signal(signal.SIGINT)
        status = self.process.wait(PATIENCE_S)
        time.sleep(0.1)  # for the last words
        return status


class Game:
    """Has a port open, raw, and keeps all that came."""

    def __init__(self, path):
        self.port = os.open(path, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
        tty.setraw(self.port)
        self.came = b""

    def listen(self, seconds):
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            self.look(0.02)

    def look(self, patience_s):
        if select.select([self.port], [], [], patience_s)[0]:
            try:
                self.came += os.read(self.port, 65536)
            except (BlockingIOError, OSError):
                pass

    def hear(self, done, patience_s=PATIENCE_S):
        end = time.monotonic() + patience_s
        while not done(self.came) and time.monotonic() < end:
            self.look(0.02)
        return done(self.came)

    def write(self, data):
        os.write(self.port, data)

    def newest(self):
        """The numbers of the newest whole line of the tram desk."""
        lines = re.findall(rb"^(\d+),(\d+),(\d+),(\d+),(\d+)\n", self.came, re.M)
        return [int(n) for n in lines[-1]] if lines else None

    def close(self):
        os.close(self.port)


class Tap(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def path(self, name):
        return os.path.join(self.folder.name, name)

    def serve(self, *words):
        box = Running("serve", TRAM, "--no-tcp", *words)
        self.addCleanup(box.__exit__)
        return box

    def tap(self, *words):
        tap = Running("tap", *words, "--no-tcp")
        self.assertIsNotNone(tap.port, tap.ready + tap.said)
        self.addCleanup(tap.__exit__)
        return tap

    def test_the_same_bytes_on_both_sides_and_in_the_recording(self):
        source, between = self.path("source.jsonl"), self.path("tap.jsonl")
        box = self.serve("--play", "wander", "--record", source)
        tap = self.tap(TRAM, "--box", box.port, "--record", between)
        game = Game(tap.port)
        self.assertTrue(game.hear(lambda came: came.count(b"\n") > 20), tap.said)
        end = time.monotonic() + LENGTH_S
        while time.monotonic() < end:
            game.write(b"255,0,0,90,34,130\n")
            game.listen(0.2)
        game.close()
        time.sleep(0.3)
        self.assertEqual(tap.finish(), INTERRUPTED, tap.said)
        self.assertEqual(box.finish(), INTERRUPTED, box.said)
        here, there = Recording(source), Recording(between)
        self.assertGreater(len(game.came), 20 * 10 * LENGTH_S)
        self.assertIn(game.came, there.to_game)
        # The box may have said a little more after the tap left.
        self.assertTrue(here.to_game.startswith(there.to_game))
        self.assertEqual(here.from_game, there.from_game)
        self.assertEqual(here.from_game.count(b"\n"), there.from_game.count(b"\n"))
        # What the observer counted on the tap is what the source made.
        counted = int(re.search(r"(\d+) lines? to the game", tap.said)[1])
        made = re.findall(rb"^\d+,\d+,\d+,\d+,\d+\n", here.to_game[:len(there.to_game)], re.M)
        self.assertAlmostEqual(counted, len(made), delta=1)  # the last may be cut
        verified = subprocess.run([PROGRAM, "replay", between, "--verify"], capture_output=True)
        self.assertEqual(verified.returncode, 0, verified.stderr)
        self.assertIn(b"was not compared", verified.stderr)

    def test_replaced_in_mid_game_and_put_back(self):
        box = self.serve()
        tap = self.tap(TRAM, "--box", box.port, "--record", self.path("swap.jsonl"))
        game = Game(tap.port)
        self.assertTrue(game.hear(lambda came: came.count(b"\n") > 5), tap.said)
        box.say("power to 70%")
        box.say("sander on")
        game.listen(1.0)
        before = game.newest()
        game.came = b""
        tap.say("box out")
        self.assertTrue(until(lambda: "the virtual one plays on" in tap.said), tap.said)
        game.listen(1.0)
        lines = [[int(n) for n in line] for line in
                 re.findall(rb"^(\d+),(\d+),(\d+),(\d+),(\d+)\n", game.came, re.M)]
        self.assertGreater(len(lines), 30)
        for line in lines[1:]:  # nothing jumps: an analogue converter's noise is all that moves
            for was, is_now in zip(before, line):
                self.assertLessEqual(abs(was - is_now), 3, (before, line))
        tap.say("power to 20%")  # moves the virtual one now
        self.assertTrue(game.hear(lambda _: abs(game.newest()[0] - 205) < 8), game.newest())
        tap.say("box in")
        self.assertTrue(game.hear(lambda _: abs(game.newest()[0] - before[0]) < 4), game.newest())
        self.assertEqual(tap.finish(), INTERRUPTED, tap.said)
        verified = subprocess.run([PROGRAM, "replay", self.path("swap.jsonl"), "--verify"],
                                  capture_output=True)
        self.assertEqual(verified.returncode, 0, verified.stderr)

    def test_a_hand_overrides_one_control_until_it_lets_go(self):
        box = self.serve()
        tap = self.tap(TRAM, "--box", box.port)
        game = Game(tap.port)
        self.assertTrue(game.hear(lambda came: came.count(b"\n") > 5), tap.said)
        box.say("power to 70%")
        box.say("heater to 40%")
        game.listen(1.0)
        box_power, heater = game.newest()[0], game.newest()[1]
        tap.say("power to 10%")
        self.assertTrue(game.hear(lambda _: abs(game.newest()[0] - 102) < 8), game.newest())
        self.assertLess(abs(game.newest()[1] - heater), 4)
        box.say("heater to 90%")  # what nobody holds is the box's
        self.assertTrue(game.hear(lambda _: abs(game.newest()[1] - 920) < 12), game.newest())
        self.assertLess(abs(game.newest()[0] - 102), 8)
        tap.say("power let go")
        self.assertTrue(game.hear(lambda _: abs(game.newest()[0] - box_power) < 4), game.newest())

    def test_a_box_that_is_pulled_and_returns_leaves_the_game_open(self):
        name = self.path("box")
        box = self.serve("--pty", name)
        tap = self.tap(TRAM, "--box", name)
        game = Game(tap.port)
        self.assertTrue(game.hear(lambda came: came.count(b"\n") > 5), tap.said)
        box.process.kill()
        box.process.wait()
        pulled = time.monotonic()
        self.assertTrue(until(lambda: "went away" in tap.said), tap.said)
        self.assertLess(time.monotonic() - pulled, 1.0)  # 250 ms is held by the link's own tests
        game.write(b"0,0,0,0,0,0\n")
        game.listen(0.5)
        again = self.serve("--pty", name)
        self.assertTrue(until(lambda: "is back" in tap.said), tap.said)
        game.came = b""
        self.assertTrue(game.hear(lambda came: came.count(b"\n") > 5), tap.said + again.said)
        self.assertEqual(tap.said.count("went away"), 1)
        self.assertEqual(tap.said.count("is back"), 1)
        self.assertNotIn("the game closed", tap.said)

    def test_without_a_panel_any_bytes_pass_by_socat(self):
        ends = [self.path("a"), self.path("b")]
        socat = subprocess.Popen(["socat"] + ["PTY,raw,echo=0,link=" + end for end in ends])
        self.addCleanup(socat.wait)
        self.addCleanup(socat.kill)
        self.assertTrue(until(lambda: all(os.path.exists(end) for end in ends)))
        record = self.path("raw.jsonl")
        tap = self.tap("--box", ends[0], "--record", record)
        box, game = Game(ends[1]), Game(tap.port)
        every = bytes(range(256)) * 8
        game.listen(0.2)
        for start in range(0, len(every), 128):
            box.write(every[start:start + 128])
            game.write(every[start:start + 128])
            game.listen(0.01)
            box.listen(0.01)
        self.assertTrue(game.hear(lambda came: len(came) >= len(every)))
        self.assertTrue(box.hear(lambda came: len(came) >= len(every)))
        self.assertEqual((game.came, box.came), (every, every))
        self.assertIn("no panel file", self.refused(tap, "box out"))
        self.assertEqual(tap.finish(), INTERRUPTED)
        self.assertEqual(Recording(record).to_game, every)
        self.assertEqual(Recording(record).from_game, every)
        self.assertIn("2048 bytes from it, 2048 to it", tap.said)
        verified = subprocess.run([PROGRAM, "replay", record, "--verify"], capture_output=True)
        self.assertEqual(verified.returncode, 0, verified.stderr)

    def refused(self, tap, words):
        before = len(tap.said)
        tap.say(words)
        until(lambda: len(tap.said) > before)
        return tap.said[before:]

    def test_pyserial_plays_the_game_and_its_speed_reaches_the_box(self):
        box = self.serve()
        tap = self.tap(TRAM, "--box", box.port)
        heard = self.path("heard")
        client = subprocess.run(
            [python_with_serial(), os.path.join(ROOT, "tests/clients/pyserial_client.py"),
             tap.port, "4", heard], capture_output=True, timeout=60)
        self.assertEqual(client.returncode, 0, client.stderr)
        with open(heard, "rb") as file:
            self.assertGreater(len(re.findall(rb"^\d+,\d+,\d+,\d+,\d+\n", file.read(), re.M)), 20)
        game = Game(tap.port)
        settings = termios.tcgetattr(game.port)
        settings[4] = settings[5] = termios.B9600
        termios.tcsetattr(game.port, termios.TCSANOW, settings)
        # The box says itself what speed it was asked for.
        self.assertTrue(until(lambda: "the game set 9600 baud" in box.said), box.said)

    def test_what_cannot_be_is_refused(self):
        for words, status, told in (
                (["tap"], 2, "which box?"),
                (["tap", "--box", "/nowhere/box"], 3, "there is no such port"),
                (["tap", "--box", self.folder.name], 3, "it is a folder"),
                (["tap", "no.panel.toml", "--box", "/dev/null"], 2, "no.panel.toml")):
            run = subprocess.run([PROGRAM, *words], capture_output=True, timeout=PATIENCE_S)
            self.assertEqual(run.returncode, status, run.stderr)
            self.assertIn(told, run.stderr.decode())


if __name__ == "__main__":
    unittest.main()
