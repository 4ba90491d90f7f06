# The zip for Windows, unpacked and run under wine: the same bytes as here, lines and lamps over TCP
# with a client that uses the sockets of Windows, hands, a game of its own, ends, and refusals.
# Arguments: understudy for this system, the sources of the two games.
import glob
import hashlib
import os
import re
import select
import shutil
import subprocess
import sys
import tempfile
import time
import tty
import zipfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from wine import Served, Wine, compile_c, missing_packages, running

ROOT = os.environ["UNDERSTUDY_SOURCE_ROOT"]
BUILD = os.environ["UNDERSTUDY_BUILD_ROOT"]
TRAM = os.path.join(ROOT, "scenarios/tram/tram.panel.toml")
LINE = re.compile(rb"[0-9]{1,4},[0-9]{1,4},[01],[01],[01]|tram-desk 1")
NAME = "B\u00fchne"  # a folder's and a panel's: Windows keeps names in UTF-16, not in bytes
failures = []


def expect(what, holds, found=""):
    if not holds:
        failures.append(what)
        print("FAILED: %s%s" % (what, ("; found: %r" % (found,))[:1500]))


def build_zip(folder):
    """Optimised little, as nobody waits for this one; the rest is the release's way."""
    build = os.path.join(BUILD, "windows")
    if not os.path.exists(os.path.join(build, "CMakeCache.txt")):
        subprocess.run(["cmake", "-S", ROOT, "-B", build, "-G", "Ninja", "--log-level=WARNING",
                        "-DCMAKE_BUILD_TYPE=None", "-DCMAKE_CXX_FLAGS=-O1",
                        "-DCMAKE_TOOLCHAIN_FILE=%s/sim/cmake/windows/toolchain.cmake" % ROOT],
                       check=True, stdout=subprocess.DEVNULL)
    built = subprocess.run([os.path.join(ROOT, "sim/cmake/windows_zip.sh"), folder, build],
                           capture_output=True, text=True)
    if built.returncode != 0:
        sys.exit("the zip was not built:\n%s%s" % (built.stdout[-6000:], built.stderr[-3000:]))
    expect("the compiler for Windows warns of nothing", "warning:" not in built.stdout,
           built.stdout[-3000:])
    return glob.glob(os.path.join(folder, "understudy-*-windows-x86_64.zip"))[0]


def unpack(path, folder):
    with zipfile.ZipFile(path) as packed:
        packed.extractall(folder)
        names = packed.namelist()
    top = names[0].split("/")[0]
    for wanted in ("understudy.exe", "README.txt", "LICENCE.txt", "panels/tram.panel.toml",
                   "readers/panel_reader.py", "docs/windows.md", "licences/libfmt-dev.txt"):
        expect("the zip holds " + wanted, "%s/%s" % (top, wanted) in names, names[:40])
    expect("nothing has to lie beside the program", not [n for n in names if n.endswith(".dll")])
    return os.path.join(folder, top, "understudy.exe")


def here(*words):
    return subprocess.run([NATIVE, *words], capture_output=True, cwd=wine.folder, timeout=120)


def equal_bytes():
    """The promise: panel, seed and hands decide each byte, on every system."""
    words = ("emit", TRAM, "--for", "1h", "--play", "wander", "--seed", "7", "--hand",
             "bell press 200ms from 3s")
    native = here(*words, "--record", "here.jsonl", "--force")
    status, out, said = wine.run(EXE, *words, "--record", "there.jsonl")
    expect("emit ends well under Windows", status == 0, said)
    expect("an hour of the tram desk has a hundred thousand lines",
           native.stdout.count(b"\n") > 1e5)
    expect("an hour of the tram desk has the same SHA-256 on both systems",
           hashlib.sha256(out).digest() == hashlib.sha256(native.stdout).digest(),
           (len(out), len(native.stdout), out[:80]))
    expect("the fingerprint of the session is the same", said.split()[-1:] ==
           native.stderr.split()[-1:], said)
    with open(os.path.join(wine.folder, "here.jsonl"), "rb") as file:
        ours = file.read().split(b"\n", 1)
    with open(os.path.join(wine.folder, "there.jsonl"), "rb") as file:
        theirs = file.read().split(b"\n", 1)
    expect("the recordings are the same behind their headers", ours[1] == theirs[1])
    status, out, said = wine.run(EXE, "replay", "here.jsonl", "--verify")
    expect("a recording made here holds there", status == 0 and b"the same again" in said, said)
    expect("a recording made there holds here", here("replay", "there.jsonl", "--verify")
           .returncode == 0)
    status, out, _ = wine.run(EXE, "replay", "here.jsonl", "--stdout", "--to", "60s")
    expect("replay writes the bytes as they are", out == here("replay", "here.jsonl", "--stdout",
                                                              "--to", "60s").stdout and b"," in out)


def words_and_paths():
    for words in (("--help",), ("explain",), ("explain", "--schema"), ("check", TRAM, "--json")):
        status, out, said = wine.run(EXE, *words)
        expect("%s says the same on both systems" % words[0],
               (status, out) == (0, here(*words).stdout) and b"\r" not in out, out[:300] or said)
    os.mkdir(os.path.join(wine.folder, NAME))
    name = NAME + "\\" + NAME
    status, out, said = wine.run(EXE, "new", name, "--pots", "1", "--buttons", "2", "--switches",
                                 "0", "--lamps", "1")
    made = os.path.join(wine.folder, NAME, NAME + ".panel.toml")
    expect("new writes a file with letters beyond ASCII in its name, behind a backslash",
           status == 0 and os.path.exists(made), (status, out, said))
    with open(made, encoding="utf-8", newline="") as file:
        text = file.read()
    expect("what new writes has plain line ends and its name in UTF-8",
           "\r" not in text and '"%s"' % NAME in text, text[:200])
    status, out, said = wine.run(EXE, "check", name + ".panel.toml")
    expect("check reads it", status == 0, out + said)
    status, _, said = wine.run(EXE, "new", name, "--pots", "1")
    expect("new overwrites nothing", status == 2 and b"there already" in said, said)
    status, _, said = wine.run(EXE, "check", name + "x.panel.toml")
    expect("a panel file that is not there is told with the nearest",
           status == 2 and (NAME + ".panel.toml").encode() in said, said)
    status, _, said = wine.run(EXE, "new", "asked", stdin=b"1\r\n2\r\n0\r\n1\r\n\r\n\r\n")
    expect("new takes answers with the line ends of Windows", status == 0, said)


def refusals():
    for words, part in (((TRAM, "--pty", "port"), b"a pseudo-terminal is not there on Windows"),
                        ((TRAM, "--no-tcp"), b"leaves no way in"),
                        ((TRAM, "--print-env"), b"--print-env"),
                        ((TRAM, "--tcp", "0", "--record", "x.jsonl.zst"), b"cannot compress"),
                        ((TRAM, "--tcp", "0", "--", "no_such_game.exe"), b"cannot start the game"),
                        ((TRAM, "--tcp", "0", "--", "game.py"), b"python game.py"),
                        ((TRAM, "--tcp", "0", "--", CLIENT, "{port}"), b"{port}")):
        status, out, said = wine.run(EXE, "serve", *words)
        expect("serve %s is refused with its reason" % " ".join(words[1:3]),
               status == 2 and part in said, (status, said))
    packed = os.path.join(wine.folder, "packed.jsonl.zst")
    here("emit", TRAM, "--for", "3s", "--record", packed)
    status, _, said = wine.run(EXE, "replay", "packed.jsonl.zst", "--verify")
    expect("a compressed recording is refused with its reason",
           status == 2 and b"compressed" in said, said)


def lines_and_lamps():
    """A served panel, a client by Windows' sockets, hands on standard input and by `hand`."""
    served = Served(wine, EXE, "serve", TRAM, "--tcp", "0", "--record", "tcp.jsonl")
    place = served.ready().get("tcp", "")
    expect("serve tells its address and no pseudo-terminal",
           place.startswith("127.0.0.1:") and "pty=" not in "".join(served.lines), served.lines)
    status, out, said = wine.run(EXE, "serve", TRAM, "--tcp", place)
    expect("a port that is taken is refused, not shared",
           status == 3 and b"has that port" in said, (status, said))
    served.hand("bell down")
    status, out, said = wine.run(EXE, "hand", "sander on")
    expect("the verb hand finds the session", status == 0, (status, said))
    status, out, said = wine.run(EXE, "hand", "sandr on")
    expect("the session answers what is wrong", status == 2 and b"sander" in said, (status, said))
    status, out, said = wine.run(CLIENT, place, "150", "255,0,0,90,34,130")
    lines = out.split(b"\n")
    expect("a client of Windows reads 150 lines", status == 0 and len(lines) > 150, (status, said))
    expect("each is a line of the panel",
           [line for line in lines[:-1] if not LINE.fullmatch(line)] == [], lines[:4])
    expect("both hands show in them", lines[140].split(b",")[2:] == [b"1", b"0", b"1"], lines[140])
    served.interrupt()
    status = served.wait()
    expect("ctrl-C ends it with status 130", status == 130, (status, served.words()))
    expect("the game's visit is told", "the game opened tcp" in served.words(), served.words())
    with open(os.path.join(wine.folder, "tcp.jsonl"), "rb") as file:
        recording = file.read()
    expect("its lamp line lit the lamp", b'"output":"door_lamp","number":90' in recording
           .replace(b" ", b""), recording[-600:])
    status, _, said = wine.run(EXE, "replay", "tcp.jsonl", "--verify")
    expect("what was recorded holds", status == 0, said)


def a_game_of_its_own():
    served = Served(wine, EXE, "serve", TRAM, "--tcp", "0", "--", CLIENT, "-", "60",
                    "9,9,9,9,9,9", "5")
    status = served.wait()
    said = served.words()
    expect("the status of a game that fails is told", status == 1 and "ended with status 5" in said,
           (status, said))
    expect("the game's own words come with a prefix",
           len(re.findall("game: [0-9]+,[0-9]+,", said)) >= 55, said[-500:])
    name = "ch%d.exe" % os.getpid()
    shutil.copy(CLIENT, os.path.join(wine.folder, name))
    served = Served(wine, EXE, "serve", TRAM, "--tcp", "0", "--", PARENT, name, "{tcp}")
    until = time.monotonic() + 60
    while "the game opened tcp" not in served.words() and time.monotonic() < until:
        time.sleep(0.1)
    expect("a game's child runs", "game: child" in served.words() and running(name) != [],
           served.words())
    served.interrupt()
    expect("with a game, too, ctrl-C ends the session", served.wait() == 130, served.words())
    until = time.monotonic() + 10
    while running(name) and time.monotonic() < until:
        time.sleep(0.1)
    expect("the child is ended with the game", running(name) == [])


def read_for(descriptor, lines, limit_s):
    """What comes in within the time, up to so many lines."""
    data, until = b"", time.monotonic() + limit_s
    while data.count(b"\n") < lines and time.monotonic() < until:
        if select.select([descriptor], [], [], 0.2)[0]:
            data += os.read(descriptor, 4096)
    return data


def a_serial_port():
    """A pseudo-terminal of this system is a COM port to wine; it has no modem lines there."""
    ours, theirs = os.openpty()
    tty.setraw(theirs)
    port = os.path.join(wine.prefix, "dosdevices/com5")
    if os.path.lexists(port):
        os.unlink(port)
    os.symlink(os.ttyname(theirs), port)
    served = Served(wine, EXE, "serve", TRAM, "--serial", "com5", "--no-tcp", "--record",
                    "serial.jsonl")
    expect("serve opens a COM port", "serial" in served.ready(), (served.lines, served.words()))
    lines = read_for(ours, 100, 60).split(b"\n")
    expect("a hundred lines come out of it", len(lines) > 100, len(lines))
    expect("each is a line of the panel, from the hello on",
           [line for line in lines[:-1] if not LINE.fullmatch(line)] == [], lines[:4])
    os.write(ours, b"0,0,0,90,0,0\n")
    read_for(ours, 20, 20)
    served.interrupt()
    status = served.wait()
    expect("ctrl-C ends it", status == 130, (status, served.words()))
    with open(os.path.join(wine.folder, "serial.jsonl"), "rb") as file:
        recording = file.read().replace(b" ", b"")
    expect("a lamp line that came in lit the lamp",
           b'"output":"door_lamp","number":90' in recording, recording[-600:])
    status, _, said = wine.run(EXE, "serve", TRAM, "--serial", "COM77", "--no-tcp")
    expect("a port that is not there is told", status == 3 and b"no such port" in said, said)
    # wine lists the ports that it made itself, and not this one.
    status, out, said = wine.run(EXE, "ports")
    expect("ports answers", status == 0 and out + said != b"", (status, out, said))
    os.close(ours)
    os.close(theirs)


def main():
    missing = missing_packages()
    if missing:
        sys.exit("these packages are missing: " + ", ".join(missing))
    global wine, EXE, NATIVE, CLIENT, PARENT
    NATIVE, client_source, parent_source = sys.argv[1:4]
    folder = tempfile.mkdtemp(prefix="understudy-windows-")
    EXE = unpack(build_zip(folder), folder)
    CLIENT, PARENT = os.path.join(folder, "tcp_client.exe"), os.path.join(folder, "parent.exe")
    compile_c(client_source, CLIENT)
    compile_c(parent_source, PARENT)
    wine = Wine(folder)
    try:
        for part in (equal_bytes, words_and_paths, refusals, lines_and_lamps, a_game_of_its_own,
                     a_serial_port):
            part()
    finally:
        wine.stop()
        shutil.rmtree(folder, ignore_errors=True)
    sys.exit("%d of the expectations failed" % len(failures) if failures else 0)


main()
