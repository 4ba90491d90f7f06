"""`understudy serve` from outside: its ready lines, hands, games that end badly, its exit statuses,
and that what it records verifies. Leaves other makers' clients to tests/clients."""

import os
import pathlib
import re
import select
import signal
import socket
import subprocess
import sys
import tempfile
import time
import unittest

PROGRAM = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")
TRAM = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios/tram/tram.panel.toml")
PATIENCE_S = 20  # machines are busy; nothing here waits so long when all is well


class Serve:
    """A running serve; ended at the end of a `with`."""

    def __init__(self, *words, panels=(TRAM,)):
        self.process = subprocess.Popen(
            [PROGRAM, "serve", *panels, *words],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        os.set_blocking(self.process.stdout.fileno(), False)
        self.out = b""

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.process.kill()
        self.process.communicate()

    def ready(self, count=1):
        """The first `count` lines of standard output."""
        until = time.monotonic() + PATIENCE_S
        while self.out.count(b"\n") < count and time.monotonic() < until:
            if select.select([self.process.stdout], [], [], 0.1)[0]:
                piece = self.process.stdout.read()
                if piece == b"":
                    break
                self.out += piece or b""
        return self.out.decode().splitlines()[:count]

    def say(self, words):
        self.process.stdin.write(words.encode() + b"\n")
        self.process.stdin.flush()

    def finish(self, number=None):
        """Status and standard error, after a signal where one is given."""
        if number is not None:
            self.process.send_signal(number)
        rest, err = self.process.communicate(timeout=PATIENCE_S)
        self.out += rest or b""
        return self.process.returncode, err.decode()


def place_of(line, link):
    return re.search(rf" {link}=(\S+)", line).group(1)


def connect(place):
    host, port = place.rsplit(":", 1)
    game = socket.create_connection((host, int(port)), timeout=PATIENCE_S)
    return game, game.makefile("rb")


def run(*words, stdin=""):
    done = subprocess.run([PROGRAM, *words], input=stdin, capture_output=True, text=True,
                          timeout=PATIENCE_S, check=False)
    return done.returncode, done.stdout, done.stderr


class ServeTest(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def path(self, name):
        return os.path.join(self.folder.name, name)

    def test_one_ready_line_and_nothing_else_on_standard_output(self):
        with Serve("--tcp", "0", "--for", "300ms") as serve:
            line, = serve.ready()
            self.assertRegex(line, r"^ready seat=tram pty=/dev/pts/\d+ tcp=127\.0\.0\.1:\d+$")
            self.assertEqual(serve.finish()[0], 0)
            self.assertEqual(serve.out.decode(), line + "\n")

    def test_several_seats_are_ready_one_by_one_and_then_all(self):
        with Serve("--copies", "3", "--tcp", "0", "--no-pty", "--for", "200ms") as serve:
            lines = serve.ready(4)
            self.assertEqual([line.split()[1] for line in lines[:3]],
                             ["seat=tram-1", "seat=tram-2", "seat=tram-3"])
            self.assertEqual(lines[3], "ready all")
            self.assertEqual(len({place_of(line, "tcp") for line in lines[:3]}), 3)

    def test_a_game_reads_lines_and_lights_a_lamp_and_the_recording_verifies(self):
        record = self.path("run.jsonl")
        with Serve("--tcp", "0", "--no-pty", "--record", record) as serve:
            game, lines = connect(place_of(serve.ready()[0], "tcp"))
            while not re.fullmatch(rb"\d+,\d+,[01],[01],[01]\n", lines.readline()):
                pass
            serve.say("bell down")
            while lines.readline().split(b",")[2:3] != [b"1"]:
                pass
            game.sendall(b"255,0,0,7,34,130\n")
            time.sleep(0.3)
            game.close()
            status, err = serve.finish(signal.SIGTERM)
        self.assertEqual(status, 143)
        self.assertIn("0 bytes lost", err)
        recorded = pathlib.Path(record).read_text()
        self.assertIn('"output":"signal_red","number":255', recorded)
        self.assertIn('"control":"bell"', recorded)
        status, out, err = run("replay", record, "--verify")
        self.assertEqual(status, 0, out + err)

    def test_a_hand_from_another_terminal_is_obeyed_or_answered(self):
        with Serve("--tcp", "0", "--no-pty") as serve:
            game, lines = connect(place_of(serve.ready()[0], "tcp"))
            process = str(serve.process.pid)
            self.assertEqual(run("hand", "doors down", "--process", process)[0], 0)
            while lines.readline().split(b",")[3:4] != [b"1"]:
                pass
            status, _, err = run("hand", "door down", "--process", process)
            self.assertEqual(status, 2)
            self.assertIn("the nearest is 'doors'", err)
            game.close()

    def test_among_several_sessions_hand_tells_which_there_are(self):
        with Serve("--tcp", "0") as one, Serve("--tcp", "0", "--copies", "2") as other:
            port = place_of(one.ready()[0], "pty")
            other_port = place_of(other.ready()[0], "pty")
            status, _, err = run("hand", "bell down")
            self.assertEqual(status, 2)
            self.assertIn(f"--process {one.process.pid}  tram at {port}\n", err)
            self.assertIn(f"--process {other.process.pid}  tram-1 at {other_port} and 1 more\n",
                          err)

    def test_a_name_of_the_port_is_told_with_its_place(self):
        with Serve("--tcp", "0", "--pty", self.path("port")) as serve:
            serve.ready()
            _, err = serve.finish(signal.SIGTERM)
        self.assertIn("the serial port's name is " + os.path.realpath(self.path("port")), err)

    def test_that_dtr_cannot_be_seen_is_said_only_where_the_panel_waits_for_it(self):
        gated = self.path("gated.panel.toml")
        pathlib.Path(gated).write_text(
            'panel = "Gated"\n[wire]\nkind = "native usb"\n[host]\ndtr = "opens the gate"\n'
            '[[control]]\nname = "bell"\nkind = "button"\n')
        for panel, said in ((gated, True), (TRAM, False)):
            with Serve("--tcp", "0", panels=(panel,)) as serve:
                with open(place_of(serve.ready()[0], "pty"), "rb", buffering=0):
                    time.sleep(1.5)
                    _, err = serve.finish(signal.SIGTERM)
            self.assertEqual("only while DTR is raised" in err, said, err)

    def test_signals_end_it_with_their_status(self):
        for number, expected in ((signal.SIGINT, 130), (signal.SIGTERM, 143)):
            with Serve("--tcp", "0") as serve:
                serve.ready()
                self.assertEqual(serve.finish(number)[0], expected)

    def test_a_game_that_is_not_there_is_named(self):
        status, _, err = run("serve", TRAM, "--tcp", "0", "--", "no-such-game")
        self.assertEqual(status, 2)
        self.assertIn("no-such-game", err)

    def test_a_recording_without_its_game_is_not_called_complete(self):
        record = self.path("run.jsonl")
        self.assertEqual(run("serve", TRAM, "--tcp", "0", "--record", record, "--",
                             "no-such-game")[0], 2)
        last = pathlib.Path(record).read_text().splitlines()[-1]
        self.assertIn('"ended":"the program left before the end"', last)
        status, _, err = run("replay", record, "--verify")
        self.assertEqual(status, 0, err)
        self.assertIn("where the recording was cut off", err)

    def test_of_many_refused_hands_the_first_and_the_last_are_told_and_the_rest_counted(self):
        status, _, err = run("serve", TRAM, "--tcp", "0", "--for", "500ms",
                             stdin="bel down\n" * 13 + "bel up\n")
        self.assertEqual(status, 0, err)
        told = [line for line in err.splitlines() if line.startswith("cannot follow")]
        self.assertEqual(len(told), 2, err)
        self.assertRegex(told[0], "^cannot follow 'bel down': .* the nearest is 'bell'$")
        self.assertRegex(told[1], "^cannot follow 'bel up': .*; and 12 more$")

    def test_a_game_that_crashes_has_its_signal_told(self):
        status, _, err = run("serve", TRAM, "--tcp", "0", "--", "sh", "-c", "kill -SEGV $$")
        self.assertEqual(status, 1)
        self.assertIn("SIGSEGV", err)

    def test_a_game_that_fails_has_its_status_told_and_its_words_shown(self):
        status, _, err = run("serve", TRAM, "--tcp", "0", "--", "sh", "-c", "echo lost; exit 3")
        self.assertEqual(status, 1)
        self.assertIn("game: lost", err)
        self.assertIn("status 3", err)

    def test_a_game_is_told_where_the_panel_is(self):
        script = ('test "$UNDERSTUDY_PORT" = "$1" && test "$UNDERSTUDY_TCP" = "$2:$3" && '
                  'test -e "$1"')
        status, _, err = run("serve", TRAM, "--tcp", "0", "--", "sh", "-c", script, "game",
                             "{port}", "{host}", "{tcp}")
        self.assertEqual(status, 0, err)

    def test_a_port_in_use_is_an_error_where_it_was_asked_for(self):
        with socket.create_server(("127.0.0.1", 0)) as other:
            port = str(other.getsockname()[1])
            status, out, err = run("serve", TRAM, "--tcp", port, "--for", "1s")
            self.assertEqual((status, out), (3, ""))
            self.assertIn(port, err)

    def test_a_real_file_is_never_replaced_by_a_link(self):
        taken = self.path("port")
        pathlib.Path(taken).write_text("precious")
        status, _, err = run("serve", TRAM, "--tcp", "0", "--pty", taken, "--for", "1s")
        self.assertEqual(status, 2)
        self.assertIn(taken, err)
        self.assertEqual(pathlib.Path(taken).read_text(), "precious")

    def test_an_existing_recording_is_kept_without_force(self):
        record = self.path("old.jsonl")
        pathlib.Path(record).write_text("precious")
        status, _, err = run("serve", TRAM, "--tcp", "0", "--record", record, "--for", "1s")
        self.assertEqual(status, 2)
        self.assertIn("--force", err)
        self.assertEqual(pathlib.Path(record).read_text(), "precious")

    def test_files_that_are_no_panel_are_named(self):
        for name, content in (("binary", bytes(range(256))), ("large", b"#" * 100_000_000)):
            pathlib.Path(self.path(name)).write_bytes(content)
            status, out, err = run("serve", self.path(name))
            self.assertEqual((status, out), (2, ""))
            self.assertIn(self.path(name), err)
        status, _, err = run("serve", self.path("missing.panel.toml"))
        self.assertEqual(status, 2)
        self.assertIn("missing.panel.toml", err)

    def test_seats_that_would_be_numbered_beyond_the_last_port_are_refused(self):
        status, out, err = run("serve", TRAM, "--tcp", "65535", "--copies", "3", "--for", "1s")
        self.assertEqual((status, out), (2, ""))
        self.assertIn("the last would be 65537, and ports end at 65535; --tcp 65533 or lower", err)

    def test_arguments_that_contradict_each_other_are_refused(self):
        for words in (("--no-pty", "--no-tcp"), ("--no-tcp", "--tcp", "0"), ("--copies", "0"),
                      ("--speed", "0"), ("--tcp-dtr", "maybe")):
            self.assertEqual(run("serve", TRAM, *words)[0], 2, words)

    def test_time_stands_still_until_the_game_comes_if_asked(self):
        with Serve("--tcp", "0", "--no-pty", "--wait-for-game", "--for", "500ms") as serve:
            place = place_of(serve.ready()[0], "tcp")
            time.sleep(1.0)
            self.assertIsNone(serve.process.poll())
            game, _ = connect(place)
            self.assertEqual(serve.finish()[0], 0)
            game.close()


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
