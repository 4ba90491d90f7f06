# Is the timing of bytes true enough to show the commonest bug of all? A reader that calls ReadLine
# with a timeout of 1 ms once in a frame of 16 ms loses the beginning of each line that comes in two
# parts, and takes the rest for a line. On a real port it tears a good part of all lines; against a
# stand-in that writes whole lines it looks right.
# Argument: understudy.
import os
import sys
import tempfile
import threading

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "../readers"))
from languages import compile_csharp
from serving import TRAM, Recording, Serve

SECONDS = 10
# At 9600 baud, which most first boards speak, a line of 11 bytes takes 11 ms, so that it comes in
# about four pieces, one every 4 ms; a look at the port every 17 ms then often falls between two.
BAUD = ("baud = 115200", "baud = 9600")
# Seen with byte-true timing: 17 to 20 % of these lines torn, and up to 70 % of longer ones; whole
# lines never are.
TORN_SHARE_MIN = 0.05
LINES_MIN = 200


def play(program, folder, name, arguments, words, results):
    own = os.path.join(folder, name)
    os.mkdir(own)
    panel, out = os.path.join(own, "tram.panel.toml"), os.path.join(own, "out")
    with open(TRAM, encoding="utf-8") as source, open(panel, "w", encoding="utf-8") as copy:
        text = source.read()
        assert text.count(BAUD[0]) == 1
        copy.write(text.replace(*BAUD))
    game = words + ["{port}", str(SECONDS), out, "9600", "naive"]
    serve = Serve(program, own, ["--seed", "7", "--play", "wander", "--no-tcp", *arguments], game,
                  panel)
    status = serve.wait(SECONDS + 10)
    with open(out, "rb") as file:
        lines = file.read().splitlines()[1:]  # the first may be cut by our joining
    sent = set(Recording(serve.recording).to_game.splitlines())
    torn = [line for line in lines if line not in sent]
    plausible = [line for line in torn if line.count(b",") == 4]
    results[name] = (status, len(lines), len(torn), plausible)
    print("%-10s %d lines, %d torn (%.1f %%), %d of them with five numbers all the same, such as %s"
          % (name, len(lines), len(torn), 100 * len(torn) / max(1, len(lines)), len(plausible),
             plausible[:1]))


def main():
    results = {}
    with tempfile.TemporaryDirectory() as folder:
        words = compile_csharp(os.path.join(folder, "SerialPortClient.exe"),
                               os.path.join(HERE, "SerialPortClient.cs"))
        threads = [threading.Thread(target=play, args=(sys.argv[1], folder, name, arguments, words,
                                                       results))
                   for name, arguments in (("byte-true", []), ("whole", ["--whole-lines"]))]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    complaints = [] if len(results) == 2 else ["a session failed"]
    for name, (status, lines, torn, _) in results.items():
        if status != 0 or lines < LINES_MIN:
            complaints.append("%s: status %s, only %d lines" % (name, status, lines))
        if name == "byte-true" and torn < TORN_SHARE_MIN * lines:
            complaints.append("byte-true timing tears too few lines: kinder than a real port")
        if name == "whole" and torn > 0:
            complaints.append("whole lines were torn all the same")
    print("\n".join(complaints))
    return 1 if complaints else 0


sys.exit(main())
