# Each panel reader as a game that `understudy serve` starts, all at the same time: its lines are
# taken, its lamp lights and stays lit, and its witness lines stand in the recording and do nothing
# else: no lamp follows them, and no line of the game is called wrong.
# Arguments: understudy, the C++ probe.
import concurrent.futures
import os
import re
import sys
import tempfile
import threading
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "../clients"))
from languages import own_words, reader_programs
from serving import Recording, Serve

START_LIMIT_S, PLAYED_S = 30, 2.5
THIRD_LAMP = 50  # and all after it: the gauge takes no more than 60
WITNESS = re.compile(rb"#seen [0-9]+ [0-9]+ in_play [0-9]+ [01] 0\.25")
NO_SERIAL = ("GDScript", "C#")  # C#: SerialPort needs modem lines, which tests/clients has


def end_in_time(out, flag):
    """Takes the flag away some time after the first line was taken; runtimes start at leisure."""
    limit = time.monotonic() + START_LIMIT_S
    fresh = False
    while not fresh and time.monotonic() < limit:
        time.sleep(0.1)
        if os.path.exists(out):
            with open(out, encoding="utf-8") as file:
                fresh = " fresh " in file.read()
    time.sleep(PLAYED_S)
    os.remove(flag)


def complaints_about(program, language, command, folder):
    os.mkdir(folder)
    flag, out = os.path.join(folder, "playing"), os.path.join(folder, "out")
    open(flag, "w").close()
    threading.Thread(target=end_in_time, args=(out, flag)).start()
    game = ["sh", "-c", 'exec "$@" > "$0"', out, *command, "live", "5", "", flag, "6",
            str(THIRD_LAMP)]
    links = ["--no-pty"] if language in NO_SERIAL else []
    serve = Serve(program, folder, ["--tcp", "0", "--play", "wander", *links], game)
    status = serve.wait(START_LIMIT_S + PLAYED_S + 10)
    if status != 0:
        yield "ended with %s: %s" % (status, serve.words())
    recording = Recording(serve.recording)
    with open(out, encoding="utf-8") as file:
        frames = [own_words(language, line.rstrip("\n")) for line in file]
    last = [frame for frame in frames if frame is not None][-1].split(" ", 7)
    if last[1] != "fresh" or int(last[2]) < 50:
        yield "last frame %s" % last
    seen = [line for line in recording.from_game.split(b"\n") if line.startswith(b"#seen")]
    if len(seen) < 5 or not all(WITNESS.fullmatch(line) for line in seen):
        yield "%d witness lines: %s" % (len(seen), seen[:3])
    lit = [number for _, name, number in recording.outputs if name == "signal_green"]
    if lit[:1] != [THIRD_LAMP] or any(number not in (0, THIRD_LAMP) for number in lit):
        yield "the third lamp did not light and stay: %s" % lit[:8]
    odd = [line for line in serve.said if "none of this panel's" in line]
    if odd:
        yield "called wrong: %s" % odd[0]
    print("%s: %s lines, %d of witness" % (language, last[2], len(seen)), flush=True)


def main():
    program, cpp_probe = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        programs = reader_programs(cpp_probe, folder)
        with concurrent.futures.ThreadPoolExecutor(len(programs)) as pool:
            work = lambda item: list(complaints_about(
                program, *item, os.path.join(folder, "of-" + item[0])))
            answers = dict(zip(programs, pool.map(work, programs.items())))
    failures = ["%s: %s" % (language, words) for language, all_words in answers.items()
                for words in all_words]
    print("\n".join(failures))
    return 1 if failures else 0


sys.exit(main())
