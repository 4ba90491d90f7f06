# Windows programs on this machine: the cross-compiler, and wine with a prefix of its own in a
# folder that goes away. Which programs and what they should do is the tests'.
import os
import shutil
import signal
import subprocess
import threading
import time

COMPILER = "x86_64-w64-mingw32-gcc-posix"
NEEDED = {"wine": "wine and wine64", COMPILER: "g++-mingw-w64-x86-64-posix", "zip": "zip"}
FIRST_START_LIMIT_S = 300
RUN_LIMIT_S = 120


def missing_packages():
    return sorted(package for tool, package in NEEDED.items() if shutil.which(tool) is None)


def compile_c(source, program):
    subprocess.run([COMPILER, "-O1", "-Wall", "-Wextra", "-Werror", "-static", source, "-o",
                    program, "-lws2_32"], check=True)


class Wine:
    """All programs run with `folder` as their current folder."""

    def __init__(self, folder):
        self.folder = folder
        self.prefix = os.path.join(folder, "prefix")
        # wine gives the names of files here as UTF-8 only where the locale says so.
        self.environment = dict(os.environ, WINEPREFIX=self.prefix, WINEDEBUG="-all",
                                WINEDLLOVERRIDES="mscoree,mshtml=", LC_ALL="C.UTF-8", DISPLAY="")
        self.environment.pop("UNDERSTUDY_TCP", None)
        subprocess.run(["wine", "wineboot", "-i"], env=self.environment,
                       timeout=FIRST_START_LIMIT_S, stdin=subprocess.DEVNULL,
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=True)

    def run(self, *words, stdin=b"", limit_s=RUN_LIMIT_S):
        """(status, standard output, standard error without wine's own remarks)"""
        ended = subprocess.run(["wine", *words], env=self.environment, cwd=self.folder, input=stdin,
                               capture_output=True, timeout=limit_s)
        return ended.returncode, ended.stdout, without_remarks(ended.stderr)

    def start(self, *words):
        return subprocess.Popen(["wine", *words], env=self.environment, cwd=self.folder,
                                stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                stderr=subprocess.PIPE)

    def stop(self):
        """Ends what still runs in this prefix, and no other."""
        subprocess.run(["wineserver", "-k"], env=self.environment, stdout=subprocess.DEVNULL,
                       stderr=subprocess.DEVNULL, timeout=60)


def without_remarks(errors):
    return b"\n".join(line for line in errors.split(b"\n")
                      if not line.startswith((b"it looks like wine32", b"multiarch needs",
                                              b"execute \"dpkg", b"wine: ")))


def running(program):
    """The numbers of processes that wine runs from a file of this name, of 15 letters at most."""
    found = []
    for entry in filter(str.isdigit, os.listdir("/proc")):
        try:
            with open("/proc/%s/comm" % entry, encoding="utf-8", errors="replace") as file:
                name = file.read().rstrip("\n")
        except OSError:
            continue
        if name == program:
            found.append(int(entry))
    return found


class Served:
    """A running serve: its ready line, what it said, hands for its standard input."""

    def __init__(self, wine, *words):
        self.process = wine.start(*words)
        self.said = []
        self.lines = []
        threading.Thread(target=self._listen, args=(self.process.stderr, self.said),
                         daemon=True).start()
        self.output = threading.Thread(target=self._listen, args=(self.process.stdout, self.lines),
                                       daemon=True)
        self.output.start()

    def _listen(self, stream, into):
        for line in stream:
            into.append(line.decode("utf-8", "replace").rstrip("\n"))

    def ready(self, limit_s=60):
        """What stands in the ready line, {"tcp": "127.0.0.1:4711", ...}; {} where none came."""
        until = time.monotonic() + limit_s
        while not self.lines and time.monotonic() < until and self.process.poll() is None:
            time.sleep(0.05)
        if not self.lines or not self.lines[0].startswith("ready "):
            return {}
        return dict(pair.split("=", 1) for pair in self.lines[0].split()[1:])

    def hand(self, words):
        self.process.stdin.write(words.encode() + b"\n")
        self.process.stdin.flush()

    def interrupt(self):
        self.process.send_signal(signal.SIGINT)

    def wait(self, limit_s=60):
        """Its status; its last words are in `said` then."""
        try:
            status = self.process.wait(limit_s)
        except subprocess.TimeoutExpired:
            self.process.kill()
            return "not ended after %d s" % limit_s
        self.output.join(5)
        time.sleep(0.1)
        return status

    def words(self):
        return without_remarks("\n".join(self.said).encode()).decode()
