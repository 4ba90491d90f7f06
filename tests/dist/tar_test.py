# The tar from sim/dist: unpacked in a folder with a blank in its name, without environment and
# without the build, it plays the panel over TCP and a pseudo-terminal and finds its port library;
# equal sources give equal bytes.   tar_test.py UNDERSTUDY
import filecmp
import glob
import os
import re
import select
import socket
import subprocess
import sys
import tempfile

SOURCES = os.environ["UNDERSTUDY_SOURCE_ROOT"]
BUILD = os.environ["UNDERSTUDY_BUILD_ROOT"]
LIMIT_S = 20
NO_ENVIRONMENT = {"PATH": "/usr/bin:/bin"}
PANEL = "share/understudy/scenarios/tram/tram.panel.toml"
# Power from 0 to 1023, and four controls that are up or down (scenarios/tram/tram.panel.toml).
LINE = re.compile(rb"\d{1,4},[01],[01],[01],[01]\n")


def pack(into):
    subprocess.run([os.path.join(SOURCES, "sim/dist"), "--build", BUILD, "--into", into, "tar"],
                   check=True, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    (tar,) = glob.glob(os.path.join(into, "understudy-*-linux-*.tar.gz"))
    return tar


def unpack(tar, folder):
    subprocess.run(["tar", "-xzf", tar, "-C", folder], check=True)
    (top,) = os.listdir(folder)
    assert re.fullmatch(r"understudy-\d+\.\d+\.\d+", top), f"the tar holds {top}"
    return os.path.join(folder, top)


def check_nothing_of_this_machine(top):
    for folder, _, files in os.walk(top):
        for name in files:
            with open(os.path.join(folder, name), "rb") as file:
                text = file.read()
            for place in (SOURCES, BUILD):
                assert place.encode() not in text, f"{name} names {place}"


def check_emit(top, built):
    words = ["emit", PANEL, "--for", "3s", "--seed", "4"]
    here = subprocess.run(["bin/understudy", *words], cwd=top, env=NO_ENVIRONMENT, check=True,
                          capture_output=True).stdout
    there = subprocess.run([built, *words], cwd=top, check=True, capture_output=True).stdout
    assert LINE.search(here), "emit gives no line of the tram desk"
    assert here == there, "the unpacked program and the built one emit different bytes"


def line_from(descriptor):
    """The first whole line after whatever was under way."""
    seen = b""
    while not re.search(rb"\n" + LINE.pattern, seen):
        ready, _, _ = select.select([descriptor], [], [], LIMIT_S)
        assert ready, f"no line within {LIMIT_S} s; seen: {seen!r}"
        seen += os.read(descriptor, 256)


def serve(top, *words):
    server = subprocess.Popen(["bin/understudy", "serve", PANEL, *words], cwd=top,
                              env={**NO_ENVIRONMENT, "HOME": top}, stdin=subprocess.DEVNULL,
                              stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    return server, server.stdout.readline()


def check_links(top):
    server, ready = serve(top, "--tcp", "0")
    try:
        found = re.fullmatch(r"ready seat=tram pty=(\S+) tcp=([\d.]+):(\d+)\n", ready)
        assert found, f"serve said {ready!r}"
        with socket.create_connection((found[2], int(found[3])), LIMIT_S) as game:
            line_from(game.fileno())
    finally:
        server.terminate()
        server.wait()
    server, ready = serve(top, "--no-tcp")
    try:
        port = os.open(re.search(r"pty=(\S+)", ready)[1], os.O_RDWR | os.O_NOCTTY)
        line_from(port)
        os.close(port)
    finally:
        server.terminate()
        server.wait()


def check_port_library(top):
    """A game that is started finds the library loaded: the kernel says so, not the environment."""
    run = subprocess.run(["bin/understudy", "serve", PANEL, "--no-tcp", "--", "cat",
                          "/proc/self/maps"], cwd=top, env={**NO_ENVIRONMENT, "HOME": top},
                         stdin=subprocess.DEVNULL, capture_output=True, text=True)
    for name in ("libunderstudy-port.so", "libunderstudy-names.so"):
        mapped = [line for line in run.stderr.splitlines() if line.endswith("/" + name)]
        assert mapped and all(os.path.join(top, "lib/understudy") in line for line in mapped), (
            f"a game does not have the unpacked {name}:\n{run.stderr[-2000:]}")


def needed_by(program):
    told = subprocess.run(["objdump", "-p", program], check=True, capture_output=True, text=True)
    return set(re.findall(r"NEEDED\s+(\S+)", told.stdout))


def check_needs(top):
    """bash of Debian needs a library of terminals, so it would not be let into the tar; nor would
    a program for all that needs the library for windows, which the window alone may need."""
    script = os.path.join(SOURCES, "sim/cmake/dist/needs.sh")
    refused = subprocess.run(["sh", script, "/bin/bash"], capture_output=True, text=True)
    assert refused.returncode == 1 and "libtinfo" in refused.stderr, refused.stderr
    window = os.path.join(top, "bin/understudy-window")
    other = os.path.join(top, "other")
    os.link(window, other)
    refused = subprocess.run(["sh", script, other], capture_output=True, text=True)
    os.remove(other)
    assert refused.returncode == 1 and "libSDL2" in refused.stderr, refused.stderr
    for program, libraries in ((window, {"libSDL2-2.0.so.0"}), ("bin/understudy", set())):
        needed = needed_by(os.path.join(top, program))
        assert needed - {"libc.so.6", "libm.so.6", "ld-linux-x86-64.so.2"} == libraries, (
            f"{program} needs {needed}")


def check_window(top):
    """A picture without any display; with none and no picture, what else there is; without the
    library for windows or the program, how to get it."""
    panel = ["bin/understudy", "panel", PANEL]
    environment = {**NO_ENVIRONMENT, "HOME": top}

    def run(*words, **more):
        return subprocess.run([*panel, *words], cwd=top, env={**environment, **more},
                              stdin=subprocess.DEVNULL, capture_output=True, text=True,
                              timeout=LIMIT_S)

    drawn = run("--picture", "desk.png")
    assert drawn.returncode == 0, drawn.stderr
    with open(os.path.join(top, "desk.png"), "rb") as file:
        assert file.read(8) == b"\x89PNG\r\n\x1a\n", "no PNG was written"
    blind = run()
    assert blind.returncode == 3 and "serve" in blind.stderr and not blind.stdout, blind.stderr
    broken = os.path.join(top, "broken")
    os.mkdir(broken)
    with open(os.path.join(broken, "libSDL2-2.0.so.0"), "wb"):
        pass
    bare = run(LD_LIBRARY_PATH=broken)
    assert bare.returncode == 3 and "libsdl2-2.0-0" in bare.stderr, bare.stderr
    assert "serve" in bare.stderr, bare.stderr
    window = os.path.join(top, "bin/understudy-window")
    os.rename(window, window + ".away")
    gone = run()
    os.rename(window + ".away", window)
    assert gone.returncode == 3 and window in gone.stderr and "serve" in gone.stderr, gone.stderr


with tempfile.TemporaryDirectory() as work:
    tar = pack(os.path.join(work, "first"))
    blank = os.path.join(work, "a folder")
    os.mkdir(blank)
    unpacked = unpack(tar, blank)
    check_nothing_of_this_machine(unpacked)
    check_emit(unpacked, sys.argv[1])
    check_links(unpacked)
    check_port_library(unpacked)
    check_needs(unpacked)
    check_window(unpacked)
    assert filecmp.cmp(tar, pack(os.path.join(work, "second")), shallow=False), (
        "packing the same build again gives other bytes")
