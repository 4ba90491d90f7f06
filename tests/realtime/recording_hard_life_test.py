"""Recordings from outside, in real time: a program that is killed, a disk that is full, files that
are hostile. What a killed program lost is measured by the game's clock: each of its lines has a
number, and it knows when it sent which. An argument N sets how often it is killed (else 20).

Files are read by python's json and the zstd command, not by this program, and then by it too."""

import json
import os
import random
import re
import resource
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import unittest

PROGRAM = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")
TRAM = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios/tram/tram.panel.toml")
PATIENCE_S = 30  # machines are busy; nothing here waits so long when all is well
LOSS_MAX_S = 0.100  # docs/recording.md
TIMERS_S = 0.030  # a busy machine's, as in recording_kill_test.cpp
MEMORY_MAX_KB = 200 * 1024
kills = 20


def start(*words, before=(), **popen):
    """A serve that records, its game connected: the process and the socket."""
    process = subprocess.Popen(
        [*before, PROGRAM, "serve", TRAM, "--tcp", "0", "--no-pty", "--play", "wander", *words],
        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        **popen)
    line = process.stdout.readline()
    found = re.search(r"tcp=(\S+):(\d+)", line)
    if not found:
        process.kill()
        raise AssertionError(f"not ready: {line!r} {process.communicate()[1]}")
    game = socket.create_connection((found.group(1), int(found.group(2))), timeout=PATIENCE_S)
    game.setblocking(False)
    return process, game


def play(game, length_s):
    """A numbered line each 5 ms, and all that comes is read. Gives when each was sent, and how
    many lines came in the last half second."""
    sent, late_lines = [], 0
    begin = now = time.monotonic()
    while now < begin + length_s:
        sent.append(now)
        game.send(b"255,0,0,90,34,%d\n" % len(sent))
        try:
            came = game.recv(65536)
            if came == b"":
                break
            if now > begin + length_s - 0.5:
                late_lines += came.count(b"\n")
        except BlockingIOError:
            pass
        time.sleep(0.005)
        now = time.monotonic()
    return sent, late_lines


def text_of(path):
    """The file's text; of a compressed one that is cut, what can be unpacked."""
    if path.endswith(".zst"):
        return subprocess.run(["zstd", "-dc", path], capture_output=True, timeout=PATIENCE_S,
                              check=False).stdout.decode()
    with open(path, encoding="utf-8") as file:
        return file.read()


def events_of(path):
    """All whole lines as JSON, the header first."""
    return [json.loads(line) for line in text_of(path).split("\n")[:-1]]


def replay(*words):
    """Status, standard error, and the most memory that it had, in kB."""
    with tempfile.TemporaryFile() as err:
        process = subprocess.Popen([PROGRAM, "replay", *words], stdin=subprocess.DEVNULL,
                                   stdout=subprocess.DEVNULL, stderr=err)
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        err.seek(0)
        return process.returncode, err.read().decode(), usage.ru_maxrss


class HardLifeTest(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = folder.name

    def path(self, name):
        return os.path.join(self.folder, name)

    def lost_when_killed(self, path, length_s):
        """Seconds from the first line that is not in the file to the kill."""
        process, game = start("--record", path, "--force")
        try:
            sent, _ = play(game, length_s)
        finally:
            process.kill()
            killed = time.monotonic()
            process.communicate()
            game.close()
        got = "".join(event.get("text", "") for event in events_of(path)[1:]
                      if event["from"] == "game")
        kept = [int(line.rsplit(",", 1)[1]) for line in got.split("\n")[:-1]]
        self.assertEqual(kept, list(range(1, len(kept) + 1)))  # none is missing in between
        status, err, _ = replay(path, "--verify")
        self.assertEqual(status, 0, err)
        self.assertIn("where the recording was cut off", err)
        return killed - sent[len(kept)] if len(kept) < len(sent) else 0.0

    def test_a_killed_program_loses_at_most_a_tenth_of_a_second(self):
        chance = random.Random(5)
        for ending in (".jsonl", ".jsonl.zst"):
            if ending.endswith(".zst") and shutil.which("zstd") is None:
                self.skipTest("there is no zstd command")
            lost = [self.lost_when_killed(self.path("killed" + ending), chance.uniform(0.3, 0.9))
                    for _ in range((kills + 1) // 2)]
            print(f"{ending}: {len(lost)} kills, lost {sorted(lost)[len(lost) // 2] * 1e3:.0f} ms "
                  f"in the middle, {max(lost) * 1e3:.0f} ms at most, "
                  f"{sum(each > LOSS_MAX_S for each in lost)} above 100 ms", file=sys.stderr)
            self.assertLess(max(lost), LOSS_MAX_S + TIMERS_S)

    def full_disk(self, path, process, game):
        """What holds of a session whose recording met a full disk: it went on to its end."""
        _, late_lines = play(game, 2.6)
        game.close()
        _, err = process.communicate(timeout=PATIENCE_S)
        self.assertGreater(late_lines, 10, "the session stopped with its recording: " + err)
        self.assertEqual(err.count("the recording ended: "), 1, err)
        self.assertIn("cannot write recording", err)
        self.assertIn("played 3.0 s", err)
        self.assertEqual(process.returncode, 2)
        events = events_of(path)
        self.assertGreater(len(events), 20)
        self.assertNotEqual(events[-1].get("ended"), "complete")
        status, said, _ = replay(path, "--verify")
        self.assertEqual(status, 0, said)

    def test_a_disk_that_is_full_ends_the_recording_only(self):
        place = self.path("disk")
        os.mkdir(place)
        mount = f"mount -t tmpfs -o size=40k tmpfs '{place}'"
        tried = subprocess.run(["unshare", "-rm", "sh", "-c", mount], capture_output=True,
                               check=False)
        if tried.returncode != 0:
            self.skipTest("no file system can be mounted here: " + tried.stderr.decode())
        copy = f"{mount} && \"$@\"; status=$?; cp '{place}/run.jsonl' '{self.folder}'; exit $status"
        process, game = start("--record", place + "/run.jsonl", "--for", "3s",
                              before=("unshare", "-rm", "sh", "-c", copy, "sh"))
        self.full_disk(self.path("run.jsonl"), process, game)

    def test_a_file_that_may_grow_no_more_ends_the_recording_only(self):
        def limit():
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (40_000, 40_000))
        path = self.path("run.jsonl")
        process, game = start("--record", path, "--for", "3s", preexec_fn=limit,
                              restore_signals=False)
        self.full_disk(path, process, game)
        self.assertLessEqual(os.path.getsize(path), 40_000)


class HostileTest(unittest.TestCase):
    """Each is refused or passed over with words, in bounded memory."""

    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = folder.name
        good = os.path.join(self.folder, "good.jsonl")
        subprocess.run([PROGRAM, "emit", TRAM, "--for", "3s", "--record", good], check=True,
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        with open(good, "rb") as file:
            self.lines = file.readlines()

    def judge(self, content, status, words):
        path = os.path.join(self.folder, "hostile.jsonl")
        with open(path, "wb") as file:
            file.writelines(content)
        got, err, memory = replay(path, "--verify")
        self.assertEqual((got, words in err), (status, True), err)
        self.assertLess(memory, MEMORY_MAX_KB)

    def at_line(self, number, line):
        return [*self.lines[:number - 1], line, *self.lines[number - 1:]]

    def test_times_below_zero_and_times_that_go_back_are_named(self):
        self.judge(self.at_line(9, b'{"ns":-5,"from":"mark","text":"x"}\n'), 2, "line 9: ")
        self.judge(self.at_line(99, b'{"ns":5,"from":"mark","text":"x"}\n'), 2, "line 99: ")
        self.judge(self.at_line(9, b'{"ns":9223372036854775808,"from":"mark","text":"x"}\n'), 2,
                   "line 9: ")

    def test_a_line_of_ten_megabytes_is_named(self):
        long_line = b'{"ns":1,"seat":"tram","from":"game","text":"' + b"5" * 10_000_000 + b'"}\n'
        self.judge(self.at_line(2, long_line), 2, "line 2: the line is longer than 8 MiB")

    def test_other_versions_say_why(self):
        for old, new, words in ((rb'"format":"1\.\d+"', b'"format":"2.0"', "it is of format 2.0"),
                                (rb'"model":\d+', b'"model":99', "model 99")):
            self.judge([re.sub(old, new, self.lines[0]), *self.lines[1:]], 2, words)

    def test_junk_is_no_recording(self):
        self.judge([random.Random(1).randbytes(1_000_000)], 2, "this is not a recording")

    @unittest.skipUnless(shutil.which("zstd"), "there is no zstd command")
    def test_a_gigabyte_in_few_bytes_is_refused_in_bounded_memory(self):
        packed = subprocess.run("head -c 1000000000 /dev/zero | zstd -q -c --ultra --long=27 -6",
                                shell=True, capture_output=True, check=True).stdout
        self.assertLess(len(packed), 1_000_000)
        self.judge([packed], 2, "cannot read recording")
        # Behind a good beginning.
        first = subprocess.run(["zstd", "-q", "-c"], input=b"".join(self.lines[:20]),
                               capture_output=True, check=True).stdout
        self.judge([first, packed], 2, "line 21: ")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        kills = int(sys.argv[1])
    unittest.main(argv=sys.argv[:1], verbosity=2)
