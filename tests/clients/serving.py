# A running `understudy serve` for tests: starts it, waits until it is ready, ends it, and says from
# its recording what went to the game and what the lamps did. And a python that has pyserial.
import json
import os
import signal
import subprocess
import sys
import threading
import time

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TRAM = os.path.join(ROOT, "scenarios/tram/tram.panel.toml")
READY_LIMIT_S = 10


def python_with_serial():
    for python in (sys.executable, "/usr/bin/python3"):
        found = subprocess.run([python, "-c", "import serial"], stderr=subprocess.DEVNULL)
        if found.returncode == 0:
            return python
    sys.exit("no pyserial: install the package python3-serial")


class Serve:
    """`arguments` go between the panel and `--`; `game` is what stands behind it."""

    def __init__(self, program, folder, arguments=(), game=(), panel=TRAM):
        self.recording = os.path.join(folder, "session.jsonl")
        self.said = []
        self.addresses = {}
        self.process = subprocess.Popen(
            [program, "serve", panel, "--record", self.recording, *arguments,
             *(["--", *game] if game else [])],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, stdin=subprocess.DEVNULL, text=True,
            cwd=folder)
        threading.Thread(target=self._listen, daemon=True).start()
        line = self.process.stdout.readline().strip()
        if not line.startswith("ready seat="):
            self.stop()
            raise RuntimeError("serve said %r instead of ready; %s" % (line, self.words()))
        self.addresses = dict(pair.split("=", 1) for pair in line.split()[1:])

    def _listen(self):
        for line in self.process.stderr:
            self.said.append(line.rstrip("\n"))

    def words(self):
        return " | ".join(self.said[-12:])

    def wait(self, limit_s):
        """The status with which it ends by itself."""
        try:
            return self.process.wait(limit_s)
        except subprocess.TimeoutExpired:
            self.stop()
            return "not ended after %d s" % limit_s

    def stop(self):
        """Ends it as Ctrl-C does, and gives its status."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
        try:
            status = self.process.wait(5)
        except subprocess.TimeoutExpired:
            self.process.kill()
            status = "killed"
        time.sleep(0.05)  # for the last words on standard error
        return status


class Recording:
    """What a recording says."""

    def __init__(self, path):
        self.to_game, self.from_game, self.outputs = b"", b"", []
        with open(path, encoding="utf-8") as file:
            events = [json.loads(line) for line in file][1:]
        for event in events:
            text, digits = event.get("text", ""), event.get("hex", "")
            data = text.encode() + bytes.fromhex(digits)
            if event["from"] == "panel":
                self.to_game += data
                if "output" in event:
                    self.outputs.append((event["ns"], event["output"], event["number"]))
            elif event["from"] == "game":
                self.from_game += data

    def brightest(self, output):
        return max([number for _, name, number in self.outputs if name == output], default=0)
