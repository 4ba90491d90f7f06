"""A line's round trip from a game through a relay to a box that echoes, and back: with no relay,
through socat, and through `understudy tap` without and with a panel file, both recording. All are
up at once and asked in turn, so that a busy second is busy for all. Numbers are quoted in
docs/performance.md.
  tap_bench.py RELAY_PROBE [--rounds N] [--count N]"""

import argparse
import os
import re
import subprocess
import tempfile
import time

BUILD = os.environ.get("UNDERSTUDY_BUILD_ROOT", "build")
SOURCE = os.environ.get("UNDERSTUDY_SOURCE_ROOT", ".")
PROGRAM = os.path.join(BUILD, "understudy")
TRAM = os.path.join(SOURCE, "scenarios/tram/tram.panel.toml")


class Relays:
    def __init__(self, probe, folder):
        self.probe, self.folder, self.running = probe, folder, []
        self.ports = {"no relay": self.box(), "socat": self.socat(self.box()),
                      "tap": self.tap("plain", "--box", self.box()),
                      "tap, panel file": self.tap("panel", TRAM, "--box", self.box())}

    def start(self, *words, **more):
        self.running.append(subprocess.Popen(words, **more))
        return self.running[-1]

    def box(self):
        return self.start(self.probe, "echo",
                          stdout=subprocess.PIPE, text=True).stdout.readline().strip()

    def socat(self, box):
        port = os.path.join(self.folder, "socat")
        self.start("socat", box + ",raw,echo=0", "PTY,raw,echo=0,link=" + port)
        while not os.path.exists(port):
            time.sleep(0.01)
        return port

    def tap(self, name, *words):
        record = os.path.join(self.folder, name + ".jsonl")
        tap = self.start(PROGRAM, "tap", *words, "--no-tcp", "--quiet", "--record", record,
                         stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, text=True)
        return re.search(r"pty=(\S+)", tap.stdout.readline())[1]

    def ping(self, name, count):
        run = subprocess.run([self.probe, "ping", self.ports[name], str(count)],
                             capture_output=True, text=True, timeout=120, check=True)
        return [int(ns) / 1e3 for ns in run.stdout.split()]

    def end(self):
        for process in self.running:
            process.terminate()
        for process in self.running:
            process.wait()


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("probe")
    arguments.add_argument("--rounds", type=int, default=10)
    arguments.add_argument("--count", type=int, default=500)
    options = arguments.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        relays = Relays(options.probe, folder)
        took = {name: [] for name in relays.ports}
        for _ in range(options.rounds):
            for name, all_us in took.items():
                all_us += relays.ping(name, options.count)
        relays.end()
    for name, all_us in took.items():
        ordered = sorted(all_us)
        print(f"{name:16} median {ordered[len(ordered) // 2]:6.1f} us, "
              f"99th {ordered[len(ordered) * 99 // 100]:6.1f} us of {len(ordered)}")


main()
