# A panel served on a serial port, and another maker's serial program at the other end of a crossed
# cable, which socat plays with two pseudo-terminals: lines one way, lamps the other; what happens
# when the cable's adapter goes away and returns; and each refusal with its sentence.
# Arguments: understudy.
import fcntl
import os
import pty
import re
import subprocess
import sys
import tempfile
import time
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, HERE)
from serving import TRAM, Recording, Serve

PROGRAM = sys.argv.pop(1)
SECONDS = 4
LINES_MIN = 75  # 50 a second, less the board's start of 1.5 s and a slow start of the client
PATIENCE_S = 20
LINE = re.compile(rb"[0-9]{1,4},[0-9]{1,4},[01],[01],[01]|tram-desk 1")


def python_with_serial():
    for python in (sys.executable, "/usr/bin/python3"):
        found = subprocess.run([python, "-c", "import serial"], stderr=subprocess.DEVNULL)
        if found.returncode == 0:
            return python
    sys.exit("no pyserial: install the package python3-serial")


PYTHON = python_with_serial()


def until(holds, limit_s=PATIENCE_S):
    end = time.monotonic() + limit_s
    while not holds() and time.monotonic() < end:
        time.sleep(0.02)
    return holds()


class Cable:
    """Two adapters and a crossed cable; ends of it at folder/ours and folder/theirs."""

    def __init__(self, folder):
        self.ours, self.theirs = (os.path.join(folder, end) for end in ("ours", "theirs"))
        self.plug()

    def plug(self):
        ends = ["pty,raw,echo=0,link=" + path for path in (self.ours, self.theirs)]
        self.socat = subprocess.Popen(["socat", *ends])
        if not until(lambda: os.path.exists(self.ours) and os.path.exists(self.theirs)):
            raise RuntimeError("socat made no pseudo-terminals")

    def pull(self):
        self.socat.terminate()
        self.socat.wait(PATIENCE_S)


class SerialTest(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = folder.name
        self.cable = Cable(self.folder)
        self.addCleanup(self.cable.pull)

    def serve(self, *arguments):
        serve = Serve(PROGRAM, self.folder,
                      ["--serial", self.cable.ours, "--seed", "5", "--play", "wander", *arguments])
        self.addCleanup(serve.stop)
        return serve

    def play(self):
        """What pyserial read in SECONDS: whole lines alone."""
        out = os.path.join(self.folder, "out")
        subprocess.run([PYTHON, "-B", os.path.join(HERE, "pyserial_client.py"), self.cable.theirs,
                        str(SECONDS), out], check=True, timeout=SECONDS + PATIENCE_S)
        with open(out, "rb") as file:
            data = file.read()
        return data[data.find(b"\n") + 1:data.rfind(b"\n") + 1]

    def refusal(self, port, **how):
        done = subprocess.run([PROGRAM, "serve", TRAM, "--serial", port, "--for", "100ms"],
                              capture_output=True, text=True, timeout=PATIENCE_S, **how)
        self.assertEqual((done.returncode, done.stdout), (3, ""), done.stderr)
        return done.stderr

    def assert_good_lines(self, data, recording):
        lines = data.split(b"\n")[:-1]
        self.assertEqual([line for line in lines if not LINE.fullmatch(line)], [])
        self.assertGreaterEqual(len(lines), LINES_MIN)
        self.assertIn(data, recording.to_game)

    def test_a_program_at_the_other_end_reads_lines_and_lights_a_lamp(self):
        serve = self.serve()
        self.assertEqual(serve.addresses, {"seat": "tram", "serial": self.cable.ours})
        data = self.play()
        time.sleep(0.3)  # its lamp line goes through the wire and the board
        self.assertEqual(serve.stop(), 130, serve.words())
        recording = Recording(serve.recording)
        self.assert_good_lines(data, recording)
        self.assertEqual(recording.brightest("signal_red"), 255)
        told = [words for words in serve.said if "counts as there from the start" in words]
        self.assertEqual(told, ["tram: %s has no line that tells when a game opens its end: the "
                                "game counts as there from the start, with DTR raised"
                                % self.cable.ours])
        verified = subprocess.run([PROGRAM, "replay", "--verify", serve.recording],
                                  capture_output=True, text=True, timeout=PATIENCE_S)
        self.assertEqual(verified.returncode, 0, verified.stderr)

    def test_a_port_that_goes_away_is_taken_again_and_the_session_goes_on(self):
        serve = self.serve()
        self.cable.pull()
        self.assertTrue(until(lambda: "went away" in serve.words()), serve.words())
        time.sleep(1.2)  # two more tries find nothing, and say nothing
        self.assertEqual(len([words for words in serve.said if self.cable.ours in words
                              and "went away" in words]), 1)
        self.cable.plug()
        self.assertTrue(until(lambda: "is back" in serve.words()), serve.words())
        data = self.play()
        self.assertEqual(serve.stop(), 130, serve.words())
        self.assert_good_lines(data, Recording(serve.recording))

    def test_while_it_plays_the_port_is_locked_against_other_programs(self):
        self.serve()
        lock = os.open(self.cable.ours, os.O_RDWR | os.O_NOCTTY) if os.geteuid() == 0 else None
        if lock is None:
            with self.assertRaises(OSError):
                os.open(self.cable.ours, os.O_RDWR | os.O_NOCTTY)
            return
        self.addCleanup(os.close, lock)  # root is let in by the system, but not past flock
        with self.assertRaises(BlockingIOError):
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def test_a_busy_port_names_the_program_that_has_it(self):
        for options in ("exclusive=True", ""):
            holder = subprocess.Popen(
                [PYTHON, "-c", "import serial, sys; port = serial.Serial(sys.argv[1], %s); "
                 "print('open', flush=True); sys.stdin.read()" % options, self.cable.ours],
                stdin=subprocess.PIPE, stdout=subprocess.PIPE)
            self.assertEqual(holder.stdout.readline(), b"open\n")
            self.assertRegex(self.refusal(self.cable.ours),
                             r"^understudy serve: cannot open the serial port \S+/ours: .*"
                             r"python\S* \(process %d\) has it open; close that, or give another "
                             r"port\n$" % holder.pid)
            holder.communicate()

    def test_what_is_no_port_says_what_it_is(self):
        self.assertIn("serve: cannot open the serial port %s: it is a folder, not a serial port; "
                      "'understudy ports' lists those\n" % self.folder, self.refusal(self.folder))
        self.assertIn(": it is a file, not a serial port;", self.refusal(TRAM))
        self.assertIn(": there is no such port; ", self.refusal(self.folder + "/ttyUSB0"))
        self.assertIn(" serial port is usb:1209:fffe:none: ", self.refusal("usb:1209:fffe:none"))

    def test_a_frame_that_the_port_cannot_have_is_refused(self):
        panel = os.path.join(self.folder, "even.panel.toml")
        with open(panel, "w", encoding="ascii") as file:
            file.write('panel = "Even"\n[wire]\nframe = "7E1"\n[[control]]\nname = "bell"\n'
                       'kind = "button"\n')
        done = subprocess.run([PROGRAM, "serve", panel, "--serial", self.cable.ours],
                              capture_output=True, text=True, timeout=PATIENCE_S)
        self.assertEqual(done.returncode, 3, done.stderr)
        self.assertIn("cannot do 115200 7E1: asked for it, it took 115200 8N1; ", done.stderr)

    @unittest.skipUnless(os.geteuid() == 0, "only root can hand a port to a group")
    def test_missing_rights_name_the_group_and_how_to_join_it(self):
        import grp
        import pwd
        reach = subprocess.run(["cat", PROGRAM, TRAM], user="nobody", stdout=subprocess.DEVNULL)
        if reach.returncode != 0:
            self.skipTest("this build cannot be read by another user")
        master, slave = pty.openpty()
        self.addCleanup(os.close, master)
        path = os.ttyname(slave)
        os.close(slave)
        os.chown(path, 0, grp.getgrnam("dialout").gr_gid)
        os.chmod(path, 0o660)
        who = {"user": "nobody", "group": pwd.getpwnam("nobody").pw_gid, "extra_groups": []}
        self.assertEqual(self.refusal(path, **who),
                         "understudy serve: cannot open the serial port %s: no right to; it "
                         "belongs to root and the group dialout: join that with 'sudo usermod -aG "
                         "dialout nobody', then log out and in again\n" % path)
        os.chmod(path, 0o600)
        self.assertIn("no right to; it belongs to root alone: ask", self.refusal(path, **who))

    def test_arguments_that_cannot_go_together_are_refused(self):
        def status(*arguments):
            done = subprocess.run([PROGRAM, "serve", *arguments], capture_output=True, text=True,
                                  timeout=PATIENCE_S)
            return done.returncode, done.stderr
        ours = self.cable.ours
        code, err = status(TRAM, "--serial", ours, "--serial", ours)
        self.assertEqual((code, "is there twice" in err), (2, True), err)
        code, err = status(TRAM, TRAM, "--serial", ours)
        self.assertEqual((code, "is needed 2 times, once for each seat" in err), (2, True), err)
        code, err = status(TRAM, "--serial", ours, "--", "./game", "{port}")
        self.assertEqual((code, "add --pty NAME" in err), (2, True), err)
        code, err = status(TRAM, "--serial", "usb:12g")
        self.assertEqual((code, "cannot read 'usb:12g' as a USB device" in err), (2, True), err)


if __name__ == "__main__":
    unittest.main(verbosity=2)
