# Serial and TCP clients of other makers as the test of all kinds uses them: each reads a panel's
# lines into a file, and some write lines to it. What the lines should say is kinds_test.py's.
import os
import re
import shutil
import signal
import subprocess
import sys
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "../readers"))
from languages import compile_csharp, need
from serving import Serve, python_with_serial


class Client:
    """One program behind one panel. What it reads is the file `out`."""

    link, as_game, process = "pty", False, None

    def __init__(self, folder, to_write=()):
        self.folder, self.out, self.to_write = folder, os.path.join(folder, "out"), to_write
        open(self.out, "w").close()

    def serve(self, program, panel):
        """The panel that it will play; serve starts it where it is its game."""
        game = self.command("{port}") if self.as_game else ()
        self.served = Serve(program, self.folder, ["--tcp", "0", "--seed", "3"], game, panel)
        return self.served

    def start(self):
        if not self.as_game:
            self.open(self.served.addresses[self.link])

    def open(self, address):
        with open(os.path.join(self.folder, "said"), "wb") as said:
            self.process = subprocess.Popen(
                self.command(address), stdin=subprocess.PIPE, stdout=self.output(), stderr=said,
                start_new_session=True)

    def command(self, address):
        return [*self.words(), address, self.out, *self.to_write]

    def output(self):
        return subprocess.DEVNULL

    def stop(self):
        """With all that it started; a game of serve ends with it."""
        if self.process:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait(10)

    def lines(self):
        """The whole lines that it has read; the first may be cut by its joining."""
        with open(self.out, "rb") as file:
            data = file.read()
        return data[:data.rfind(b"\n") + 1].decode(errors="replace").splitlines()[1:]

    def complaint(self):
        """Why it failed, as far as it said so."""
        said = os.path.join(self.folder, "said")
        if not os.path.exists(said):
            return self.served.words()
        with open(said, "rb") as file:
            return file.read().decode(errors="replace")[-500:]


class Pyserial(Client):
    def words(self):
        return [python_with_serial(), "-B", os.path.join(HERE, "kinds_client.py")]


class Shell(Client):
    def words(self):
        return ["sh", os.path.join(HERE, "kinds_client.sh")]


class DotNet(Client):
    """serve starts it, so that its port has modem lines."""

    as_game = True

    def words(self):
        return compile_csharp(os.path.join(self.folder, "KindsClient.exe"),
                              os.path.join(HERE, "KindsClient.cs"))


class Perl(Client):
    link = "tcp"

    def words(self):
        return [need("perl", "perl-base"), os.path.join(HERE, "kinds_client.pl")]


class Lua(Client):
    link = "tcp"

    def words(self):
        return [need("lua5.4", "lua5.4 and lua-socket"), os.path.join(HERE, "kinds_client.lua")]


class Node(Client):
    link = "tcp"

    def words(self):
        return [need("node", "nodejs"), os.path.join(HERE, "kinds_client.cjs")]


class ByHand(Client):
    """Lines are given to it while it runs, each once something has come."""

    def start(self):
        super().start()
        for line in self.to_write:
            until = time.monotonic() + 20
            while not self.lines() and time.monotonic() < until:
                time.sleep(0.1)
            self.type(line)
            time.sleep(0.2)


class Socat(ByHand):
    def command(self, address):
        return [need("socat", "socat"), "-", address + ",raw,echo=0,b115200"]

    def output(self):
        return open(self.out, "wb")

    def type(self, line):
        self.process.stdin.write(line.encode() + b"\n")
        self.process.stdin.flush()


class SocatTcp(Socat):
    link = "tcp"

    def command(self, address):
        return [need("socat", "socat"), "-", "TCP:" + address]


class Picocom(ByHand):
    """In a terminal of tmux, as a person uses it; what it shows is piped into a file."""

    READY = re.compile(r".*Terminal ready\n", re.S)

    def tmux(self, *words):
        subprocess.run([need("tmux", "tmux"), "-S", os.path.join(self.folder, "tmux"), *words],
                       check=True, timeout=20)

    def open(self, address):
        need("picocom", "picocom")
        self.tmux("-f", "/dev/null", "new-session", "-d", "-x", "80", "-y", "24", "cat")
        self.tmux("pipe-pane", "cat > '%s'" % self.out)
        self.tmux("respawn-pane", "-k", "picocom -b 115200 --omap crlf '%s'" % address)

    def type(self, line):
        self.tmux("send-keys", line, "Enter")

    def stop(self):
        subprocess.run(["tmux", "-S", os.path.join(self.folder, "tmux"), "kill-server"],
                       check=False, stderr=subprocess.DEVNULL, timeout=20)

    def lines(self):
        with open(self.out, "rb") as file:
            shown = file.read().decode(errors="replace").replace("\r", "")
        told = shown[:shown.rfind("\n") + 1]
        return self.READY.sub("", told, 1).splitlines()[1:] if self.READY.match(told) else []
