# The panel readers of all languages in a 60 Hz loop against a box that drops out, stops in the
# middle of a line, floods, chokes and is plugged in again. All must behave alike.
# Argument: the C++ probe.
import os
import re
import subprocess
import sys
import tempfile
import threading
import time

from box import PtyBox, TcpBox, send_paced
from languages import comma_locale, own_words, reader_programs

FRAME_MAX_S = 0.1  # no poll may take longer; a blocking reader takes the length of the silence


class Frame:
    def __init__(self, text):
        words = text.split(" ", 7)
        self.at = time.monotonic()
        self.took_s = int(words[0]) / 1e6
        self.state = words[1]
        self.good, self.bad = int(words[2]), int(words[3])
        self.values = [int(word) for word in words[4].split(",")]
        self.pressed, self.released = int(words[5]), int(words[6])
        self.trouble = words[7]


class Run:
    """One probe with one kind of box, and what both saw."""

    def __init__(self, language, command, box, folder, how):
        self.name = "%s over %s, %s" % (language, box.kind, how)
        self.language, self.how, self.box, self.failures, self.frames = language, how, box, [], []
        self.lamps, self.seen, self.left = [], [], b""
        self.flag = os.path.join(folder, "playing")
        open(self.flag, "w").close()
        names = ["UNDERSTUDY_PORT", "UNDERSTUDY_TCP"]
        # Swedish: some runtimes would write its minus as another sign than the one on the keyboard.
        environment = {k: v for k, v in comma_locale(folder).items() if k not in names}
        if how == "environment":
            environment[names[box.kind == "tcp"]] = box.address
        if how == "argument":  # the panel that is known is another than the one in use
            environment["UNDERSTUDY_TCP"] = "127.0.0.1:1"
        address = {"environment": "", "stream": "stream " + box.address}.get(how, box.address)
        self.process = subprocess.Popen(
            command + ["live", "2", address, self.flag, "3", "-1"],
            stdout=subprocess.PIPE, text=True, env=environment)
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self):
        for line in self.process.stdout:
            words = own_words(self.language, line.rstrip("\n"))
            if words is not None:
                self.frames.append(Frame(words))

    def check(self, holds, words):
        if not holds:
            last = vars(self.frames[-1]) if self.frames else "no frame"
            self.failures.append("%s: %s; last frame %s" % (self.name, words, last))

    def wait(self, words, holds, limit_s=3.0):
        """Until holds() is true; how long that took."""
        begun = time.monotonic()
        while not holds():
            if time.monotonic() - begun > limit_s:
                self.check(False, "never: " + words)
                break
            time.sleep(0.002)
        return time.monotonic() - begun

    def hear(self):
        """Takes the lamp and witness lines that came; (time, line) each. Returns those of lamps."""
        self.left += self.box.read()
        *lines, self.left = self.left.split(b"\n")
        for line in filter(None, lines):
            heard = self.seen if line.startswith(b"#seen ") else self.lamps
            heard.append((time.monotonic(), line.decode()))
        return self.lamps

    def chat(self, seconds, line):
        """The box repeats a line every 20 ms and hears the lamps; afterwards frames are checked."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            send_paced(self.box, line)
            self.hear()
            time.sleep(0.02)

    def settle(self):
        time.sleep(0.08)

    def last(self):
        return self.frames[-1]


def appears_late(run):
    run.wait("the probe runs", lambda: len(run.frames) > 3, 20)
    run.check(run.last().state == "silent", "silent before the box is there")
    name = "stream" if run.how == "stream" else run.box.address
    run.wait("a trouble that names the address", lambda: name in run.last().trouble)
    run.box.plug_in()


def joins_in_mid_line(run):
    run.wait("a connection", lambda: run.last().trouble == "", 3)
    run.settle()
    run.box.write(b"12,1\n")  # the tail of 512,1
    run.settle()
    run.hear()
    run.check(run.last().good == 0 and run.last().bad == 0, "the tail of a line is no line")
    run.check(not run.lamps, "no lamps before the first good line")
    send_paced(run.box, b"512,0\r\n")
    run.wait("the first good line", lambda: run.last().good == 1)
    run.check(run.last().values == [512, 0] and run.last().state == "fresh", "512,0 is taken")
    run.wait("lamps after it", lambda: run.hear() and run.lamps[-1][1] == "128,0,-1")


def counts_every_edge(run):
    before = len(run.frames)
    for _ in range(10):  # all within a frame or two; each press is shorter than a frame
        send_paced(run.box, b"512,1\n512,0\r\n", piece_bytes=4)
    run.settle()
    pressed = sum(frame.pressed for frame in run.frames[before:])
    released = sum(frame.released for frame in run.frames[before:])
    run.check(pressed == 10, "10 presses, not %d" % pressed)
    run.check(released == 10, "10 releases, not %d" % released)


def keeps_partial_lines(run):
    bad = run.last().bad
    run.box.write(b"40")
    time.sleep(0.6)  # longer than any read timeout a game would choose
    run.check(run.last().state == "stale", "stale when a line stops in the middle")
    run.box.write(b"0,0\n")
    run.wait("the rest of the line", lambda: run.last().values == [400, 0])
    run.check(run.last().bad == bad, "no bad line for it")
    run.wait("fresh again", lambda: run.last().state == "fresh")


def goes_stale_in_time(run):
    run.box.write(b"1,0\n")
    sent = time.monotonic()
    run.wait("taken", lambda: run.last().values == [1, 0])
    run.wait("stale", lambda: run.last().state == "stale")
    after = time.monotonic() - sent
    run.check(0.2 < after < 0.45, "stale after 250 ms, not %.0f" % (after * 1e3))


def drains_to_the_newest(run):
    good = run.last().good
    data = b"".join(b"%d,0\n" % n for n in range(1000))
    sent = 0
    while sent < len(data):
        try:
            sent += run.box.write(data[sent:sent + 4096])
        except BlockingIOError:
            time.sleep(0.001)
    lag = run.wait("the newest of 1000 lines", lambda: run.last().values == [999, 0])
    run.check(lag < 0.3, "1000 lines drained in %.2f s" % lag)
    run.check(run.last().good == good + 1000, "each of them counted")


def refuses_bad_lines(run):
    good, bad = run.last().good, run.last().bad
    run.box.write(b"7\n7,0,1\n7,x\n7,\xff\n\n" + b"7" * 5000 + b",0\n8,0\n")
    run.wait("the good line after them", lambda: run.last().values == [8, 0])
    run.check((run.last().good - good, run.last().bad - bad) == (1, 6), "6 bad lines, 1 good")


def refreshes_lamps(run):
    run.chat(0.3, b"100,0\n")
    run.hear()
    run.lamps.clear()
    run.chat(2.2, b"100,0\n")
    run.check(3 <= len(run.lamps) <= 6, "a refresh every 0.5 s, not %d in 2.2 s" % len(run.lamps))
    run.chat(0.2, b"100,1\n")
    run.check(run.lamps[-1][1] == "25,255,-1", "a change is sent at once: %s" % run.lamps[-1][1])


def bears_witness(run):
    run.chat(0.3, b"400,1\n")
    run.seen.clear()
    run.chat(1.5, b"400,1\n")
    if run.how != "environment":
        run.check(not run.seen, "no witness line to an address that may be a box: %s" % run.seen)
        return
    count, lines = len(run.seen), [line for _, line in run.seen]
    run.check(3 <= count <= 7, "a witness line every 250 ms, not %d in 1.5 s" % count)
    shape = re.compile(r"#seen ([0-9]+) ([0-9]+) in_play 400 1 0\.25")
    matches = [shape.fullmatch(line) for line in lines]
    run.check(all(matches), "age, backlog, state and values: %s" % lines)
    ages = [int(match[1]) for match in matches if match]
    run.check(ages and sorted(ages)[len(ages) // 2] <= 60, "ages of 20 ms lines: %s" % ages)
    time.sleep(0.9)  # the box is silent now
    run.hear()
    ages = [int(match[1]) for match in (shape.fullmatch(line) for _, line in run.seen) if match]
    run.check(ages[-1:] > [400], "the age grows while nothing comes: %s" % ages)


def comes_back(run):
    run.lamps.clear()
    run.left = b""
    run.box.unplug()
    gone = run.wait("silent once unplugged", lambda: run.last().state == "silent")
    run.check(gone < 0.2, "silent at once, not after %.2f s" % gone)
    time.sleep(0.8)
    run.box.plug_in()
    back = run.wait("connected again", lambda: run.last().trouble == "")
    run.check(back < 1.2, "connected again within a second, not %.2f s" % back)
    run.settle()
    run.check(not run.hear(), "no lamps to a box that may still boot")
    run.chat(0.3, b"100,0\n")
    run.check(run.last().state == "fresh", "fresh again")
    run.check(bool(run.lamps) and run.lamps[-1][1] == "25,0,-1", "lamps are sent anew")
    released = sum(frame.released for frame in run.frames[-40:])
    run.check(released == 1, "a button let go while unplugged is released, once, not %d" % released)


def never_waits_to_write(run):
    if run.box.kind == "pty":
        run.box.clog()
    begun = len(run.frames)
    for n in range(100):  # the lamps change with every frame, and nobody takes them
        run.box.write(b"%d,0\n" % (4 * n))
        time.sleep(0.016)
    run.check(len(run.frames) - begun > 50, "frames go on while the box does not read")
    run.settle()
    run.wait("all that waited", lambda: not run.box.read())
    run.left = b""
    run.lamps.clear()
    run.chat(1.3, b"400,1\n")
    run.check(bool(run.lamps) and run.lamps[-1][1] == "100,255,-1", "whole lamp lines afterwards")


def leaves_lamps_dark(run):
    run.chat(0.2, b"400,1\n")
    run.lamps.clear()
    os.remove(run.flag)
    run.wait("the probe ends", lambda: run.process.poll() is not None)
    run.hear()
    run.check(bool(run.lamps) and run.lamps[-1][1] == "0,0,0", "all lamps 0 at the end")


STEPS = [appears_late, joins_in_mid_line, counts_every_edge, keeps_partial_lines,
         goes_stale_in_time, drains_to_the_newest, refuses_bad_lines, refreshes_lamps,
         bears_witness, comes_back, never_waits_to_write, leaves_lamps_dark]


def play(language, command, make_box, how, folder, failures):
    run = Run(language, command, make_box(folder), folder, how)
    try:
        for step in STEPS:
            step(run)
    except Exception as error:
        run.check(False, "the box failed in %s: %r" % (step.__name__, error))
    run.process.kill()
    polls = sorted(frame.took_s for frame in run.frames[2:])
    if len(polls) < 3:
        failures += run.failures + [run.name + ": no frames"]
        return
    slowest = polls[-1]
    # One or two may fall into a standstill of the machine; who waits, waits out a silence.
    run.check(polls[-3] < FRAME_MAX_S and slowest < 4 * FRAME_MAX_S,
              "no poll waits; some took %.3f s and %.3f s" % (polls[-3], slowest))
    print("%s: %d frames, slowest poll %.1f ms, %d failures"
          % (run.name, len(run.frames), slowest * 1e3, len(run.failures)), flush=True)
    failures += run.failures


def main():
    combinations = [
        ("C++", PtyBox, "argument"), ("C++", TcpBox, "environment"),
        ("Python", PtyBox, "environment"), ("Python", TcpBox, "argument"),
        ("C#", TcpBox, "environment"),
        ("GDScript", TcpBox, "environment"), ("GDScript", TcpBox, "argument"),
        ("Lua", PtyBox, "environment"), ("Lua", TcpBox, "argument"),
        ("JavaScript", PtyBox, "argument"), ("JavaScript", TcpBox, "environment"),
        ("JavaScript", TcpBox, "stream"),
    ]
    failures = []
    with tempfile.TemporaryDirectory() as folder:
        programs = reader_programs(sys.argv[1], folder)
        threads = []
        for number, (language, make_box, how) in enumerate(combinations):
            own = os.path.join(folder, str(number))
            os.mkdir(own)
            arguments = (language, programs[language], make_box, how, own, failures)
            threads.append(threading.Thread(target=play, args=arguments))
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    print("\n".join(failures))
    return 1 if failures else 0


sys.exit(main())
