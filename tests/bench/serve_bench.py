"""What `understudy serve` costs from outside: from start to `ready`; how late its chunks are,
beside the system's own sleep in the same seconds; and the share of a core that many copies of the
tram panel take, idle and each read by a client (whose own work is not counted). Numbers are quoted
in docs/performance.md."""

import argparse
import ctypes
import json
import os
import re
import select
import statistics
import subprocess
import tempfile
import time

BUILD = os.environ.get("UNDERSTUDY_BUILD_ROOT", "build")
SOURCE = os.environ.get("UNDERSTUDY_SOURCE_ROOT", ".")
PROGRAM = os.path.join(BUILD, "understudy")
TRAM = os.path.join(SOURCE, "scenarios/tram/tram.panel.toml")


def start(*words):
    return subprocess.Popen([PROGRAM, "serve", TRAM, "--tcp", "0", "--quiet", *words],
                            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, text=True)


def time_to_ready(runs):
    times_ms = []
    for _ in range(runs):
        begun = time.perf_counter()
        serve = start()
        serve.stdout.readline()
        times_ms.append((time.perf_counter() - begun) * 1e3)
        serve.terminate()
        serve.wait()
    print(f"start to ready: median {statistics.median(times_ms):.1f} ms, "
          f"worst of {runs} {max(times_ms):.1f} ms")


def cpu_s(process):
    """User and system time of a process so far (proc(5), fields 14 and 15)."""
    with open(f"/proc/{process.pid}/stat", encoding="ascii") as file:
        fields = file.read().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def percentiles(values_us):
    ordered = sorted(values_us)
    return (f"median {ordered[len(ordered) // 2]:.0f}, "
            f"99th {ordered[min(len(ordered) - 1, len(ordered) * 99 // 100)]:.0f} us")


def sleep_lateness_us(length_s):
    """How late clock_nanosleep(2) wakes, to absolute times 4 ms apart, timer slack at 1 ns."""
    libc = ctypes.CDLL(None, use_errno=True)
    libc.prctl(29, 1, 0, 0, 0)  # PR_SET_TIMERSLACK

    class TimeSpec(ctypes.Structure):
        _fields_ = [("seconds", ctypes.c_long), ("nanoseconds", ctypes.c_long)]

    late = []
    due = time.clock_gettime_ns(time.CLOCK_MONOTONIC)
    end = due + int(length_s * 1e9)
    while due < end:
        due += 4_000_000
        spec = TimeSpec(due // 1_000_000_000, due % 1_000_000_000)
        libc.clock_nanosleep(time.CLOCK_MONOTONIC, 1, ctypes.byref(spec), None)
        late.append((time.clock_gettime_ns(time.CLOCK_MONOTONIC) - due) / 1e3)
    return late


def lateness(length_s):
    with tempfile.TemporaryDirectory() as folder:
        record = os.path.join(folder, "run.jsonl")
        serve = start("--record", record)
        path = re.search(r"pty=(\S+)", serve.stdout.readline())[1]
        client = subprocess.Popen(["cat", path], stdout=subprocess.DEVNULL)
        time.sleep(2.5)  # until the board has started
        sleep_late = sleep_lateness_us(length_s)
        client.terminate()
        client.wait()
        serve.terminate()
        serve.wait()
        with open(record, encoding="utf-8") as file:
            events = [json.loads(line) for line in file]
    late = [event.get("late_us", 0) for event in events
            if event.get("from") == "panel" and "text" in event]
    print(f"clock_nanosleep late: {percentiles(sleep_late)} of {len(sleep_late)}")
    print(f"chunks of serve late: {percentiles(late)} of {len(late)} (below 50 us written as 0)")


class Readers:
    """One client for all ports; reads whatever is there a hundred times a second."""

    def __init__(self, paths):
        self.lines = 0
        self.epoll = select.epoll()
        for path in paths:
            port = os.open(path, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
            self.epoll.register(port, select.EPOLLIN)

    def read_for(self, length_s):
        until = time.monotonic() + length_s
        while time.monotonic() < until:
            for port, _ in self.epoll.poll(0.02):
                self.lines += os.read(port, 4096).count(b"\n")
            time.sleep(0.01)


def cost_of_copies(copies, length_s):
    serve = start("--copies", str(copies))
    ready = [serve.stdout.readline() for _ in range(copies)]
    time.sleep(0.5)
    idle = cpu_s(serve)
    time.sleep(length_s)
    idle = (cpu_s(serve) - idle) / length_s
    readers = Readers(re.search(r"pty=(\S+)", line)[1] for line in ready)
    readers.read_for(3)  # until all boards have started
    lines, busy, begun = readers.lines, cpu_s(serve), time.monotonic()
    readers.read_for(length_s)
    took_s = time.monotonic() - begun
    rate = (readers.lines - lines) / took_s / copies
    print(f"{copies} copies, nobody connected: {idle * 100:.1f} % of a core")
    print(f"{copies} copies, each read at {rate:.1f} lines/s: "
          f"{(cpu_s(serve) - busy) / took_s * 100:.1f} % of a core")
    serve.terminate()
    serve.wait()
    return rate


def main():
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--copies", type=int, default=200)
    arguments.add_argument("--seconds", type=float, default=10)
    arguments.add_argument("--runs", type=int, default=21)
    chosen = arguments.parse_args()
    time_to_ready(chosen.runs)
    lateness(chosen.seconds)
    rate = cost_of_copies(chosen.copies, chosen.seconds)
    if rate < 10:
        raise SystemExit(f"only {rate:.1f} lines/s came: the numbers above mean nothing")


if __name__ == "__main__":
    main()
