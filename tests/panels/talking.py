# A served panel over TCP for the tests of this folder: says lines, asks and waits for the answer.
import os
import select
import signal
import socket
import subprocess
import tempfile
import time

PATIENCE_S = 30  # a board starts within 2 s; machines are busy
AGAIN_S = 0.5


def program():
    return os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")


class Box:
    """One panel being served, with one game that is this test; ended at the end of a `with`."""

    def __init__(self, panel, *words):
        self.private = tempfile.TemporaryDirectory()  # so that no other session is disturbed
        self.process = subprocess.Popen(
            [program(), "serve", panel, "--no-pty", "--tcp", "0", *words], stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
            env={**os.environ, "XDG_RUNTIME_DIR": self.private.name})
        ready = self.process.stdout.readline()
        if " tcp=" not in ready:
            self.process.kill()
            raise RuntimeError("serve said %r; %s" % (ready, self.process.communicate()[1]))
        host, port = ready.split(" tcp=")[1].strip().rsplit(":", 1)
        self.game = socket.create_connection((host, int(port)), PATIENCE_S)
        self.heard = b""

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.game.close()
        self.process.send_signal(signal.SIGINT)
        try:
            self.process.communicate(timeout=PATIENCE_S)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.communicate()
        self.private.cleanup()

    def say(self, text):
        self.game.sendall(text.encode("ascii"))

    def hand(self, words):
        self.process.stdin.write(words + "\n")
        self.process.stdin.flush()

    def ask(self, question, again=False, after_s=0):
        """The next line that comes for it; `again`: asks until a board that starts hears it."""
        time.sleep(after_s)
        self.say(question)
        for _ in range(int(PATIENCE_S / AGAIN_S)):
            if b"\n" in self.heard:
                line, self.heard = self.heard.split(b"\n", 1)
                return line.decode("ascii")
            if select.select([self.game], [], [], AGAIN_S)[0]:
                self.heard += self.game.recv(4096)
            elif again:
                self.say(question)
        raise RuntimeError("no answer to %r within %d s" % (question, PATIENCE_S))

    def hear(self, count):
        """So many bytes, at least."""
        until = time.monotonic() + PATIENCE_S
        while len(self.heard) < count and time.monotonic() < until:
            if select.select([self.game], [], [], AGAIN_S)[0]:
                self.heard += self.game.recv(4096)
        if len(self.heard) < count:
            raise RuntimeError("only %r came within %d s" % (self.heard, PATIENCE_S))

    def settle(self):
        """Takes answers to questions that were asked more than once, until no more come."""
        while select.select([self.game], [], [], 2 * AGAIN_S)[0]:
            self.game.recv(4096)
        self.heard = b""

    @staticmethod
    def wait_until(holds, words):
        until = time.monotonic() + PATIENCE_S
        while not holds():
            if time.monotonic() > until:
                raise RuntimeError(words())
            time.sleep(0.1)
