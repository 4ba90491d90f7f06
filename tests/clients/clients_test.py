# Serial clients of other makers, and our readers, against a served panel: each plays both ways for
# ten seconds. What a client read must stand byte for byte in the recording of its session, and what
# it wrote must have lit a lamp. All run at the same time, each with a panel of its own.
# Arguments: understudy, the termios client, the libserialport client, the C++ reader's probe.
import os
import re
import shutil
import subprocess
import sys
import tempfile
import threading
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "../readers"))
from languages import compile_csharp, reader_programs
from serving import Recording, Serve, python_with_serial

SECONDS = 10
LINES_MIN = 300  # 50 a second, less the board's start of 1.5 s, less a slow start of the client
POLL_MAX_S = 0.1
THIRD_LAMP = 90  # of the readers' probes; their first two follow the panel
LINE = re.compile(rb"[0-9]{1,4},[0-9]{1,4},[01],[01],[01]|tram-desk 1")
LAMPS = b"255,0,0,0,34,130\n"


def whole_lines(data):
    """Without the end of a line at the front and the beginning of one at the back."""
    return data[data.find(b"\n") + 1:data.rfind(b"\n") + 1]


class Client:
    """One way to use a panel: `link` is pty or tcp; `as_game`: serve starts it."""

    def __init__(self, name, link, as_game, folder):
        self.name, self.link, self.as_game = name, link, as_game
        self.folder = os.path.join(folder, re.sub(r"[^a-z]+", "-", name.lower()))
        os.mkdir(self.folder)
        self.out = os.path.join(self.folder, "out")
        self.complaints = []

    def complain_unless(self, holds, words):
        if not holds:
            self.complaints.append("%s: %s" % (self.name, words))

    def play(self, program, seed):
        arguments = ["--seed", str(seed), "--play", "wander", "--tcp", "0"]
        try:
            if self.as_game:
                game = self.command("{port}" if self.link == "pty" else "{host}:{tcp}")
                serve = Serve(program, self.folder, arguments, game)
                status = serve.wait(SECONDS + 10)
                self.complain_unless(status == 0, "ended with %s: %s" % (status, serve.words()))
            else:
                arguments += ["--pty", os.path.join(self.folder, "port"), "--print-env"]
                serve = self.serve = Serve(program, self.folder, arguments)
                self.talk(serve.addresses[self.link])
                time.sleep(0.5)  # its last words go through the wire and the board
                status = serve.stop()
                self.complain_unless(status == 130, "serve: %s: %s" % (status, serve.words()))
            self.judge(Recording(serve.recording))
        except Exception as error:
            self.complain_unless(False, repr(error))

    def talk(self, address):
        done = subprocess.run(self.command(address), timeout=SECONDS + 10, capture_output=True)
        self.complain_unless(done.returncode == 0, "status %d: %s" % (done.returncode, done.stderr))

    def judge(self, recording):
        data = whole_lines(self.read_back())
        lines = data.split(b"\n")[:-1]
        wrong = [line for line in lines if not LINE.fullmatch(line)]
        self.complain_unless(not wrong, "read %d wrong lines such as %r" % (len(wrong), wrong[:1]))
        self.complain_unless(len(lines) >= LINES_MIN, "read only %d lines" % len(lines))
        self.complain_unless(data in recording.to_game, "read what the recording does not have")
        self.complain_unless(recording.brightest("signal_red") == 255, "lit no lamp")
        self.summary = "%d lines" % len(lines)

    def read_back(self):
        with open(self.out, "rb") as file:
            return file.read()


class Program(Client):
    """A program that takes ADDRESS SECONDS OUT."""

    def __init__(self, name, link, as_game, folder, words):
        super().__init__(name, link, as_game, folder)
        self.words = words

    def command(self, address):
        return self.words + [address, str(SECONDS), self.out]


class ProgramWithPrefix(Program):
    """Started by hand, with what --print-env tells to put before it."""

    def talk(self, address):
        limit = time.monotonic() + 5
        told = None
        while told is None and time.monotonic() < limit:
            time.sleep(0.05)
            told = re.search(r"by hand: (LD_PRELOAD=.*) GAME$", "\n".join(self.serve.said), re.M)
        command = ["sh", "-c", (told.group(1) if told else "") + ' "$@"', "sh"]
        self.words = command + self.words
        super().talk(address)


class Socat(Client):
    def talk(self, address):
        with open(self.out, "wb") as out:
            process = subprocess.Popen(["socat", "-", address + ",raw,echo=0,b115200"],
                                       stdin=subprocess.PIPE, stdout=out)
        time.sleep(SECONDS / 2)
        process.stdin.write(LAMPS)
        process.stdin.flush()
        time.sleep(SECONDS / 2)
        self.complain_unless(process.poll() is None, "ended early: %s" % process.returncode)
        process.terminate()
        process.wait(5)


class Picocom(Client):
    """In a terminal of tmux, as a person uses it; what it shows is piped into a file."""

    def tmux(self, *words):
        subprocess.run(["tmux", "-S", os.path.join(self.folder, "tmux"), *words], check=True)

    def talk(self, address):
        self.tmux("-f", "/dev/null", "new-session", "-d", "-x", "80", "-y", "24", "cat")
        self.tmux("pipe-pane", "cat > '%s'" % self.out)
        self.tmux("respawn-pane", "-k", "picocom -b 115200 --omap crlf '%s'" % address)
        time.sleep(SECONDS / 2)
        self.tmux("send-keys", "255,0,0,0,34,130", "Enter")
        time.sleep(SECONDS / 2)
        self.tmux("kill-server")

    def read_back(self):
        shown = super().read_back()
        self.complain_unless(b"Terminal ready" in shown, "never came up: %r" % shown[:200])
        return shown[shown.find(b"Terminal ready"):].replace(b"\r", b"")


class Reader(Client):
    """One of our readers in the 60 Hz loop of its probe."""

    def __init__(self, name, link, as_game, folder, words):
        super().__init__(name, link, as_game, folder)
        self.words = words
        self.flag = os.path.join(self.folder, "playing")
        open(self.flag, "w").close()

    def command(self, address):
        threading.Timer(SECONDS, os.remove, [self.flag]).start()
        # The shell puts the report where it can be read again, whoever starts the reader.
        return ["sh", "-c", 'exec "$@" > "$0"', self.out, *self.words, "live", "5", address,
                self.flag, "4", str(THIRD_LAMP)]

    def judge(self, recording):
        frames = [line.split(" ", 7) for line in self.read_back().decode().splitlines()]
        last = frames[-1]
        polls = sorted(int(frame[0]) / 1e6 for frame in frames[2:])
        slowest = polls[-1]
        self.complain_unless(last[1] == "fresh" and last[7] == "", "last frame: %s" % last)
        self.complain_unless(int(last[2]) >= LINES_MIN, "took only %s lines" % last[2])
        self.complain_unless(int(last[3]) <= 1, "refused %s lines" % last[3])  # the hello line
        # One or two may fall into a standstill of the machine; a reader that waits does it often.
        self.complain_unless(polls[-3] < POLL_MAX_S and slowest < 4 * POLL_MAX_S,
                             "frames waited for %.3f s and %.3f s" % (polls[-3], slowest))
        said = {(frame[4] + "\n").encode() for frame in frames if frame[1] == "fresh"}
        strange = said - set(recording.to_game.splitlines(keepends=True))
        self.complain_unless(not strange, "values that the panel never sent: %s" % strange)
        lit = [number for _, name, number in recording.outputs if name == "signal_green"]
        self.complain_unless(lit[:1] == [THIRD_LAMP], "lit no lamp")
        # Where serve started the game, the session ends with it, and the last line is on its way.
        self.complain_unless(self.as_game or lit[-1] == 0, "left the lamp lit: %s" % lit)
        self.summary = "%s lines, slowest poll %.1f ms" % (last[2], slowest * 1e3)


def all_clients(folder, termios_client, libserialport_client, cpp_probe):
    sharp = compile_csharp(os.path.join(folder, "SerialPortClient.exe"),
                           os.path.join(HERE, "SerialPortClient.cs"))
    pyserial = [python_with_serial(), "-B", os.path.join(HERE, "pyserial_client.py")]
    tcp = [sys.executable, "-B", os.path.join(HERE, "tcp_client.py")]
    programs = reader_programs(cpp_probe, folder)
    yield Program("pyserial", "pty", False, folder, pyserial)
    yield Program("termios", "pty", False, folder, [termios_client])
    yield Program("libserialport", "pty", True, folder, [libserialport_client])
    yield Program("SerialPort under Mono", "pty", True, folder, sharp)
    yield ProgramWithPrefix("Mono started by hand", "pty", False, folder, sharp)
    yield Program("a TCP socket", "tcp", False, folder, tcp)
    yield Socat("socat", "pty", False, folder)
    yield Picocom("picocom", "pty", False, folder)
    for language, letter in (("C++", "cpp"), ("Python", "python"), ("C#", "sharp")):
        # Only a serial port of the .NET family needs to be started by us, for its modem lines.
        yield Reader("reader %s pty" % letter, "pty", language == "C#", folder, programs[language])
        yield Reader("reader %s tcp" % letter, "tcp", False, folder, programs[language])


def main():
    program, termios_client, libserialport_client, cpp_probe = sys.argv[1:]
    missing = [name for name in ("socat", "picocom", "tmux") if not shutil.which(name)]
    if missing:
        sys.exit("install the packages " + ", ".join(missing))
    with tempfile.TemporaryDirectory() as folder:
        clients = list(all_clients(folder, termios_client, libserialport_client, cpp_probe))
        threads = [threading.Thread(target=client.play, args=(program, seed))
                   for seed, client in enumerate(clients, 1)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    complaints = [words for client in clients for words in client.complaints]
    for client in clients:
        print("%-22s %s" % (client.name, getattr(client, "summary", "nothing")))
    print("\n".join(complaints))
    return 1 if complaints else 0


sys.exit(main())
