"""`understudy replay` with a game at its links, and `understudy compare`, from outside: what a
client reads, what a replay that is recorded again says, and latencies worked out from the
recordings by a few lines of this file's own."""

import json
import os
import pathlib
import re
import select
import socket
import subprocess
import tempfile
import threading
import time
import unittest

PROGRAM = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")
SCENARIOS = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios")
TRAM = os.path.join(SCENARIOS, "tram/tram.panel.toml")
QUIZ = os.path.join(SCENARIOS, "quiz/quiz.panel.toml")
PATIENCE_S = 60  # machines are busy; nothing here waits so long when all is well
PRESSES_S = (2.0, 2.6, 3.4)  # of the bell
# Says by itself how far the knob is, and where the bell is when asked.
ASKED_PANEL = """panel = "asked desk"
board = "bootloader-8bit"
[[control]]
name = "power"
kind = "pot"
[[control]]
name = "bell"
kind = "button"
[[line]]
to = "game"
text = "P{power}"
send = { every = "40 ms" }
[[line]]
to = "game"
text = "B{bell}"
send = { asked = "?" }
"""


class Running:
    """A session with its links open; ended at the end of a `with`."""

    def __init__(self, *words):
        self.process = subprocess.Popen(
            [PROGRAM, *words], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            stderr=subprocess.PIPE)
        self.ready = self.process.stdout.readline().decode()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.process.kill()
        self.process.communicate()

    def place(self, link):
        return re.search(rf" {link}=(\S+)", self.ready).group(1)

    def say(self, words):
        self.process.stdin.write(words.encode() + b"\n")
        self.process.stdin.flush()

    def finish(self):
        _, err = self.process.communicate(timeout=PATIENCE_S)
        return self.process.returncode, err.decode()


class Client(threading.Thread):
    """Connects by TCP, keeps all that it reads, and lights the door lamp `delay` after each line in
    which the bell is newly down, and puts it out after one in which it is newly up."""

    def __init__(self, place, delay=None):
        super().__init__(daemon=True)
        host, port = place.rsplit(":", 1)
        self.socket = socket.create_connection((host, int(port)), timeout=PATIENCE_S)
        self.delay = delay
        self.read = b""
        self.start()

    def run(self):
        bell, line, planned = b"0", b"", []
        try:
            while True:
                wait = max(0, planned[0][0] - time.monotonic()) if planned else 1
                if select.select([self.socket], [], [], wait)[0]:
                    piece = self.socket.recv(4096)
                    if not piece:
                        return
                    self.read += piece
                    *lines, line = (line + piece).split(b"\n")
                    for one in lines:
                        fields = one.split(b",")
                        if len(fields) == 5 and fields[2] != bell:
                            bell = fields[2]
                            planned.append((time.monotonic() + (self.delay or 0), bell))
                while planned and planned[0][0] <= time.monotonic():
                    lamp = b"255" if planned.pop(0)[1] == b"1" else b"0"
                    if self.delay is not None:
                        self.socket.sendall(b"0,0,0," + lamp + b",0,0\n")
        except OSError:
            return
        finally:
            self.socket.close()


class Asker(Client):
    """Connects by TCP, keeps all that it reads, and asks every `period`."""

    def run(self):
        due = time.monotonic()
        try:
            while True:
                if select.select([self.socket], [], [], max(0, due - time.monotonic()))[0]:
                    piece = self.socket.recv(4096)
                    if not piece:
                        return
                    self.read += piece
                if due <= time.monotonic():
                    due += self.delay
                    self.socket.sendall(b"?\n")
        except OSError:
            return
        finally:
            self.socket.close()


def play(*words, delay=None, said=(), client=Client):
    """What a client read, the status and the words of a session that runs to its end."""
    with Running(*words, "--wait-for-game", "--tcp", "0") as running:
        for words_of_hand in said:
            running.say(words_of_hand)
        client = client(running.place("tcp"), delay)
        status, err = running.finish()
        client.join(PATIENCE_S)
        return client.read, status, err


def run(*words):
    done = subprocess.run([PROGRAM, *words], stdin=subprocess.DEVNULL, capture_output=True,
                          text=True, timeout=PATIENCE_S, check=False)
    return done.returncode, done.stdout, done.stderr


def events(path):
    with open(path, encoding="utf-8") as file:
        return [json.loads(line) for line in file]


def bytes_to_game(path):
    return b"".join(event.get("text", "").encode() + bytes.fromhex(event.get("hex", ""))
                    for event in events(path)[1:]
                    if event["from"] == "panel" and ("text" in event or "hex" in event))


def chunks(path, until_ns=None):
    return [(event["ns"], event.get("text"), event.get("hex")) for event in events(path)[1:]
            if event["from"] == "panel" and ("text" in event or "hex" in event)
            and (until_ns is None or event["ns"] <= until_ns)]


def hands(path):
    return [(event["ns"], event["control"], event["to_ppm"]) for event in events(path)[1:]
            if event["from"] == "hand"]


def lamp_latencies(path):
    """By this file's own reckoning: from each movement of the bell to the lamp's next change."""
    found, moved = [], None
    for event in events(path)[1:]:
        if event["from"] == "hand" and event["control"] == "bell":
            moved = event["ns"]
        elif event.get("output") == "door_lamp" and moved is not None:
            found.append(event["ns"] - moved)
            moved = None
    return found


def line_latencies(path):
    """The same from the lines alone: from the chunk that ends a line in which the bell is another
    to the game's line in which the lamp is another."""
    found, moved, line, bell, lamp = [], None, "", "0", "0"
    for event in events(path)[1:]:
        if event["from"] == "panel" and "text" in event:
            *lines, line = (line + event["text"]).split("\n")
            for fields in (one.split(",") for one in lines):
                if len(fields) == 5 and fields[2] != bell:
                    bell, moved = fields[2], event["ns"]
        elif event["from"] == "game":
            fields = event["text"].strip().split(",")
            if len(fields) == 6 and fields[3] != lamp:
                lamp = fields[3]
                found.append(event["ns"] - moved)
    return found


class ReplayToGameTest(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.first = cls.path("first.jsonl")
        # The session begins with the game, so the hands are said before it and come at these times.
        said = [f"bell press 200ms from {at}s" for at in PRESSES_S]
        said.append("power to 80% in 0.3s from 3s")
        cls.read, status, err = play("serve", TRAM, "--for", "4500ms", "--record", cls.first,
                                     "--seed", "5", delay=0.02, said=said)
        assert status == 0, err

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    @classmethod
    def path(cls, name):
        return os.path.join(cls.folder.name, name)

    def end_of_first(self):
        return events(self.first)[-1]["ns"]

    def test_the_client_read_what_is_recorded(self):
        self.assertGreater(len(self.read), 1000)
        self.assertEqual(self.read, bytes_to_game(self.first)[:len(self.read)])

    def test_hands_come_at_their_recorded_times_and_a_replay_verifies(self):
        again = self.path("again.jsonl")
        _, status, err = play("replay", self.first, "--record", again, delay=0.02)
        self.assertEqual(status, 0, err)
        self.assertEqual(hands(again), hands(self.first))
        self.assertEqual(len(hands(again)), 7)
        self.assertIn("playing first.jsonl as hands", events(again)[0]["program"])
        self.assertEqual(events(again)[0]["seed"], 5)
        status, _, err = run("replay", again, "--verify")
        self.assertEqual(status, 0, err)

    def test_a_game_that_does_the_same_reads_the_same_bytes(self):
        quiet, again = self.path("quiet.jsonl"), self.path("quiet-again.jsonl")
        said = [f"bell press 200ms from {at}s" for at in PRESSES_S]
        read, status, err = play("serve", TRAM, "--for", "4s", "--record", quiet, "--seed", "9",
                                 said=said)
        self.assertEqual(status, 0, err)
        read_again, status, err = play("replay", quiet, "--record", again)
        self.assertEqual(status, 0, err)
        self.assertGreater(len(read), 1000)
        self.assertEqual(read_again[:len(read)], read)
        # Chunks may be cut elsewhere: the hands that were said took stamps before the opening did.
        self.assertTrue(bytes_to_game(again).startswith(bytes_to_game(quiet)))

    def test_a_part_comes_alone_and_as_often_as_asked(self):
        part = self.path("part.jsonl")
        _, status, err = play("replay", self.first, "--from", "2500ms", "--to", "3s",
                              "--times", "3", "--record", part, delay=0.02)
        self.assertEqual(status, 0, err)
        bell = [(ns, to) for ns, control, to in hands(part) if control == "bell"]
        down = [ns for ns, to in bell if to == 1_000_000]
        recorded = [ns for ns, control, to in hands(self.first)
                    if control == "bell" and to == 1_000_000]
        # The first press was stepped on the way; the second comes three times, 1.5 s apart.
        self.assertEqual(down, [recorded[0]] + [recorded[1] + k * 1_500_000_000 for k in range(3)])
        opened = [event["ns"] for event in events(part)[1:] if event.get("event") == "opened"]
        self.assertGreaterEqual(opened[0], 2_499_999_999)
        self.assertAlmostEqual(events(part)[-1]["ns"] / 1e9, 3 + 2 * 1.5 + 0.5, places=2)
        status, _, err = run("replay", part, "--verify")
        self.assertEqual(status, 0, err)

    def test_as_bytes_the_recorded_bytes_come_at_their_recorded_times(self):
        again = self.path("bytes.jsonl")
        read, status, err = play("replay", self.first, "--as", "bytes", "--record", again)
        self.assertEqual(status, 0, err)
        self.assertEqual(read, bytes_to_game(self.first))
        self.assertEqual(chunks(again), chunks(self.first))
        self.assertIn("playing first.jsonl as bytes", events(again)[0]["program"])
        self.assertEqual(events(again)[0]["seats"][0]["source"], "recording")
        # As it is a recording of no device, it is played as bytes by itself.
        third, status, err = play("replay", again, "--times", "2")
        self.assertEqual(status, 0, err)
        self.assertEqual(third, read * 2)

    def test_as_bytes_a_part_is_the_part_that_stdout_writes(self):
        part = ("--from", "2s", "--to", "2700ms")
        read, status, err = play("replay", self.first, "--as", "bytes", *part)
        self.assertEqual(status, 0, err)
        written = subprocess.run([PROGRAM, "replay", self.first, "--stdout", *part],
                                 stdin=subprocess.DEVNULL, capture_output=True, check=True).stdout
        self.assertGreater(len(read), 200)
        self.assertEqual(read, written)

    def test_a_recording_without_hands_is_played_as_bytes(self):
        still = self.path("still.jsonl")
        self.assertEqual(run("emit", TRAM, "--for", "3s", "--seed", "3", "--record", still)[0], 0)
        read, status, err = play("replay", still)
        self.assertEqual(status, 0, err)
        self.assertEqual(read, bytes_to_game(still))

    def test_clients_of_other_makers_read_the_recorded_bytes_at_a_serial_port(self):
        serial = ("import serial,sys\nport=serial.Serial(sys.argv[1],115200,timeout=0.2)\n"
                  "out=open(sys.argv[2],'wb')\n"
                  "while True: out.write(port.read(400)); out.flush()\n")
        for name, command in (
                ("pyserial", lambda place, out: ["/usr/bin/python3", "-c", serial, place, out]),
                ("socat", lambda place, out: ["socat", "-u", place + ",raw,echo=0",
                                              "OPEN:" + out + ",creat"])):
            out = self.path(name + ".bytes")
            with Running("replay", self.first, "--as", "bytes", "--wait-for-game",
                         "--no-tcp") as running:
                client = subprocess.Popen(command(running.place("pty"), out),
                                          stderr=subprocess.DEVNULL)
                status, err = running.finish()
                client.kill()
                client.wait()
            self.assertEqual(status, 0, err)
            self.assertEqual(pathlib.Path(out).read_bytes(), bytes_to_game(self.first), name)

    def test_lines_sent_when_asked_wait_for_the_asking(self):
        panel = pathlib.Path(self.path("asked.panel.toml"))
        panel.write_text(ASKED_PANEL, encoding="utf-8")
        asked = self.path("asked.jsonl")
        _, status, err = play("serve", str(panel), "--for", "4s", "--record", asked, delay=0.1,
                              said=[f"bell press 400ms from {at}s" for at in PRESSES_S],
                              client=Asker)
        self.assertEqual(status, 0, err)

        def lines(data, first):
            return [line for line in data.split(b"\n")[:-1] if line.startswith(first)]

        recorded = bytes_to_game(asked)
        self.assertGreater(len(lines(recorded, b"B")), 15)
        for period in (0.05, 0.25):
            read, status, err = play("replay", asked, "--as", "bytes", delay=period, client=Asker)
            self.assertEqual(status, 0, err)
            self.assertEqual(lines(read, b"P"), lines(recorded, b"P"))
            answers = lines(read, b"B")
            self.assertEqual(answers, lines(recorded, b"B")[:len(answers)])
            if period > 0.1:
                self.assertAlmostEqual(len(answers), 4.5 / period, delta=3)
            else:
                self.assertGreaterEqual(len(answers), len(lines(recorded, b"B")) - 1)
        read, status, err = play("replay", asked, "--as", "bytes")
        self.assertEqual((lines(read, b"B"), status), ([], 0), err)

    def test_several_seats_are_all_played_and_one_can_be_picked(self):
        two = self.path("two.jsonl")
        self.assertEqual(run("serve", TRAM, TRAM, "--for", "2500ms", "--tcp", "0", "--record", two,
                             "--play", "wander")[0], 0)
        again = self.path("two-again.jsonl")
        self.assertEqual(run("replay", two, "--tcp", "0", "--record", again)[0], 0)
        self.assertEqual(hands(again), hands(two))
        self.assertEqual([seat["name"] for seat in events(again)[0]["seats"]],
                         ["tram-1", "tram-2"])
        status, out, err = run("replay", two, "--tcp", "0", "--seat", "tram-2", "--quiet")
        self.assertEqual((status, err), (0, ""))
        self.assertRegex(out, r"\Aready seat=tram-2 pty=\S+ tcp=\S+\n\Z")

    def test_another_panel_is_moved_by_the_names_of_its_controls(self):
        text = pathlib.Path(TRAM).read_text(encoding="utf-8").replace('"bell"', '"gong"')
        other = pathlib.Path(self.path("gong.panel.toml"))
        other.write_text(text.replace("{bell}", "{gong}"), encoding="utf-8")
        gong = self.path("gong.jsonl")
        _, status, err = play("replay", self.first, "--panel", str(other), "--record", gong)
        self.assertEqual(status, 0, err)
        self.assertIn("has no such control, so hands on it are left out: bell", err)
        self.assertEqual([control for _, control, _ in hands(gong)], ["power"])

    def test_compare_gives_the_latencies_that_the_recordings_have(self):
        slow = self.path("slow.jsonl")
        _, status, err = play("replay", self.first, "--record", slow, delay=0.170)
        self.assertEqual(status, 0, err)
        status, out, err = run("compare", self.first, slow, "--json")
        self.assertEqual(status, 1, err)
        rows = json.loads(out)["recordings"][0]["answers"]
        lamp = [row for row in rows if row["output"] == "door_lamp"]
        self.assertEqual([row["a_latency_ns"] for row in lamp], lamp_latencies(self.first))
        self.assertEqual([row["b_latency_ns"] for row in lamp], lamp_latencies(slow))
        self.assertEqual([row["kind"] for row in lamp], ["later"] * 6)
        for row in lamp:  # 150 ms by the clients; the machine and the board's loop add to either
            self.assertAlmostEqual(row["difference_ns"] / 1e6, 150, delta=45)
        status, out, err = run("compare", self.first, slow)
        self.assertEqual(status, 1, err)
        self.assertRegex(
            out, r"first difference: at .*, after 'bell pressed', seat tram: door_lamp is set to "
                 r"255 after .* ms in \S*first.jsonl and after .* ms in \S*slow.jsonl \(\+\d")
        self.assertRegex(
            out, r"bell pressed +door_lamp 255 +[0-9.]+ ms +[0-9.]+ ms +\+[0-9.]+ ms later")
        self.assertEqual(run("compare", self.first, slow, "--tolerance", "250ms")[0], 0)
        self.assertEqual(run("compare", self.first, self.first)[0], 0)

    def test_without_hands_and_outputs_the_lines_are_compared(self):
        slow = self.path("slow-lines.jsonl")
        _, status, err = play("replay", self.first, "--record", slow, delay=0.120)
        self.assertEqual(status, 0, err)
        bare = []
        for path in (self.first, slow):
            bare.append(path.replace(".jsonl", "-bare.jsonl"))
            with open(path, encoding="utf-8") as file, open(bare[-1], "w", encoding="utf-8") as to:
                to.writelines(line for line in file if '"from":"hand"' not in line
                              and '"output":' not in line and '"from":"check"' not in line)
        status, out, err = run("compare", *bare, "--json", "--align", "bell")
        self.assertEqual(status, 1, err)
        rows = json.loads(out)["recordings"][0]["answers"]
        self.assertEqual([row["a_latency_ns"] for row in rows], line_latencies(bare[0]))
        self.assertEqual([row["b_latency_ns"] for row in rows], line_latencies(bare[1]))
        self.assertEqual([row["hand"] for row in rows], ["bell 1", "bell 0"] * 3)
        _, out, _ = run("compare", *bare)
        self.assertIn("hands are those that the lines to the game show", out)

    def test_many_are_listed_worst_first(self):
        files = []
        text = pathlib.Path(self.first).read_text(encoding="utf-8").splitlines(keepends=True)
        for late_ms in (10, 300, 90):
            lines = []
            for line in text:
                event = json.loads(line)
                if event.get("output") == "door_lamp":
                    event["ns"] += late_ms * 1_000_000
                lines.append((event.get("ns", -1), json.dumps(event) + "\n"))
            lines.sort(key=lambda pair: pair[0])
            files.append(self.path(f"late-{late_ms}.jsonl"))
            pathlib.Path(files[-1]).write_text("".join(line for _, line in lines), encoding="utf-8")
        status, out, err = run("compare", self.first, *files)
        self.assertEqual(status, 1, err)
        rows = re.findall(r"^ +\S*late-(\d+)\.jsonl .*?([+-][0-9.]+) ms +([+-][0-9.]+) ms$", out,
                          re.M)
        self.assertEqual(rows, [("300", "+300.0", "+300.0"), ("90", "+90.0", "+90.0"),
                                ("10", "+10.0", "+10.0")])
        status, out, err = run("compare", self.first, *files, QUIZ)
        self.assertEqual(status, 2)
        self.assertRegex(out, "quiz.panel.toml: cannot be compared: .*this is not a recording")

    def test_what_cannot_be_played_or_compared_is_said(self):
        text = pathlib.Path(self.first).read_text(encoding="utf-8").splitlines(keepends=True)

        def broken(name, lines):
            path = self.path(name)
            pathlib.Path(path).write_text("".join(lines), encoding="utf-8")
            return path

        back = broken("back.jsonl", [text[0], text[-2], *text[1:]])
        empty = broken("empty.jsonl", [])
        bare = broken("bare.jsonl", text[:1])
        junk = broken("junk.jsonl", [*text[:9], "junk\n", *text[9:]])
        quiz = self.path("quiz.jsonl")
        self.assertEqual(run("emit", QUIZ, "--for", "1s", "--record", quiz)[0], 0)
        for words, said in (
                (("replay", back), "line 3: its time is before that of the line above"),
                (("replay", empty), "the file is empty"),
                (("replay", bare), "nothing happens in it"),
                (("replay", junk), "line 10"),
                (("replay", TRAM), "this is not a recording"),
                (("replay", self.path("none.jsonl")), "No such file"),
                (("replay", self.first, "--from", "1h"), "is behind the end of"),
                (("replay", self.first, "--from", "3s", "--to", "2s"),
                 "--from 3 s is behind --to 2 s"),
                (("replay", self.first, "--times", "0"), "--times 0: a number from 1"),
                (("replay", self.first, "--seat", "bus"), "has no seat 'bus'; it has tram"),
                (("replay", self.first, "--as", "dreams"), "'hands'"),
                (("replay", self.first, "--panel", self.first), "first.jsonl"),
                (("replay", self.first, "--record", self.first, "--force"),
                 "is the recording that is played"),
                (("replay", self.first, "--verify", "--times", "2"), "--verify plays to no game"),
                (("compare", self.first), "one recording is compared with nothing"),
                (("compare", self.first, quiz), "has other controls: only in"),
                (("compare", back, self.first), "line 3: its time is before"),
                (("compare", self.first, empty), "the file is empty"),
                (("compare", self.first, self.first, "--output", "siren"), "has no output siren")):
            status, _, err = run(*words)
            self.assertEqual((status, said in err), (2, True), f"{words}: {status}, {err}")

    def test_a_recording_that_was_cut_off_is_played_up_to_there(self):
        text = pathlib.Path(self.first).read_bytes()
        cut = self.path("cut.jsonl")
        place = text.index(b'"ns":2', text.index(b'"from":"hand"'))
        pathlib.Path(cut).write_bytes(text[:place + 40])
        _, status, err = play("replay", cut, delay=0.02)
        self.assertEqual(status, 0, err)
        self.assertIn("its torn end is left out", err)


if __name__ == "__main__":
    unittest.main()
