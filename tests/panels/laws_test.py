# What holds for every panel under scenarios/: `check` finds nothing that is not meant; one seed
# gives the same bytes twice, another seed others; each line that hands bring about is one of those
# that the panel's page tells of, all values within their ranges; a recording verifies; and the
# page's example of a line to the panel sets what it says. The lines are read here by expressions
# and by Python's JSON reader, not by our own matcher.
import functools
import glob
import json
import os
import re
import subprocess
import sys
import tempfile

from talking import Box, program

SCENARIOS = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios")
ASKED = 30
# The one warning that is meant, by the word it begins with.
MEANT = {"organ": ["matrix"]}
# To the panel, and what it sets.
COMMANDS = {
    "tram": ("255,0,0,90,34,130\n", {"signal_red": 255, "door_lamp": 90, "speed_gauge": 34,
                                     "timetable": 130}),
    "quiz": ("red_lamp on\nbuzzer on\n", {"red_lamp": 1, "buzzer": 1}),
    "telescope": ("123.4,255\n", {"bearing": 1234, "tracking": 255}),
    "greenhouse": ('{"vent":40,"pump":255}\n', {"vent": 40, "pump": 255}),
    "organ": ("<2550000000000002551280000000440>",
              {"left.r": 255, "middle.b": 255, "right.r": 128, "pipe": 440}),
}


def require(holds, *words):
    if not holds:
        raise AssertionError(" ".join(map(str, words)))


def run(*words):
    done = subprocess.run([program(), *words], capture_output=True, check=False)
    require(done.returncode == 0, words, "gave status", done.returncode, done.stderr.decode())
    return done.stdout


def between(low, text, high):
    require(low <= float(text) <= high, text, "is not from", low, "to", high)


def tram(text):
    first, *lines = text.splitlines()
    require(first == "tram-desk 1", "hello", first)
    for line in lines:
        power, heater, *contacts = line.split(",")
        between(0, power, 1023)
        between(0, heater, 1023)
        require(len(contacts) == 3 and set(contacts) <= {"0", "1"}, line)
    return len(lines), len(set(lines))


def quiz(text):
    first, *lines = text.splitlines()
    require(first == "podium 1 is here", "hello", first)
    for line in lines:
        require(re.fullmatch("1 (red|blue|green|yellow) (up|down)", line), line)
    return len(lines), len(set(lines))


def telescope(text):
    lines = text.splitlines()
    for i, line in enumerate(lines):
        found = re.fullmatch(r"M(\d{3}),(\d+),(-?\d+),(-?\d\.\d\d),(-?\d\.\d\d),[01]\*(..)", line)
        require(found, line)
        # The rule of NMEA 0183: exclusive or of all bytes before the star, two hexadecimal digits.
        check = functools.reduce(lambda a, b: a ^ b, line[:-3].encode())
        require(found[6] == "%02X" % check, line, "has the check", "%02X" % check)
        require(int(found[1]) == (int(lines[0][1:4]) + i) % 1000, "the sequence at", line)
        for place, low, high in ((2, 0, 3599), (3, -900, 900), (4, -1, 1), (5, -1, 1)):
            between(low, found[place], high)
    return len(lines), len({line[5:-3] for line in lines})


def greenhouse(text):
    lines = [json.loads(line) for line in text.splitlines()]
    for line in lines:
        require(list(line) == ["air", "sun", "soil", "tank", "door"], line)
        require(isinstance(line["air"], float), "air has no point:", line)
        between(7.0, line["air"], 32.0)  # the day in air.csv, and noise
        between(0, line["sun"], 100)
        between(0, line["soil"], 100)
        between(140, line["tank"], 148)  # 72 % of 200, and noise
        require(line["door"] in ("open", "shut"), line)
    return len(lines), len({json.dumps(line) for line in lines})


def organ(text):
    require(text.startswith("abcdefghijkl1"), text[:13])
    for key in "abcdefghijkl":
        events = re.sub("[^%s%s]" % (key, key.upper()), "", text)
        require(re.fullmatch("%s(%s%s)*%s?" % (key, key.upper(), key, key.upper()), events),
                "key", key, "was told as", events)
    stops = re.sub("[a-lA-L]", "", text)
    require(re.fullmatch("[1-4]*", stops) and not re.search(r"(.)\1", stops), "stops", stops)
    return len(text), len(set(text))


READERS = {"tram": tram, "quiz": quiz, "telescope": telescope, "greenhouse": greenhouse,
           "organ": organ}


def check_remarks(name, panel):
    (told,) = json.loads(run("check", "--json", panel))
    found = [remark for remark in told["remarks"] if remark["severity"] in ("wrong", "warning")]
    meant = MEANT.get(name, [])
    require([remark["about"] for remark in found] == meant, "check says", found)


def check_emitted(name, panel, folder):
    recording = os.path.join(folder, name + ".emitted.jsonl")
    words = ["emit", panel, "--play", "wander", "--for", "60s", "--quiet", "--seed"]
    one = run(*words, "5", "--record", recording)
    require(one == run(*words, "5"), "one seed gave other bytes the second time")
    require(one == run("replay", recording, "--stdout"), "the recording holds other bytes")
    run("replay", recording, "--verify")
    if name == "telescope":
        require(one == b"", "it speaks without being asked:", one[:60])
        return 0, 0
    require(one != run(*words, "6"), "another seed gave the same bytes")
    return READERS[name](one.decode("ascii"))


def check_commanded(name, panel, folder):
    """With a game: what it commands is shown, and of a panel that is asked, the answers."""
    recording = os.path.join(folder, name + ".played.jsonl")
    command, wanted = COMMANDS[name]
    answers = []
    with Box(panel, "--record", recording) as box:
        if name == "telescope":
            answers = [box.ask("?\n", again=True)]
            box.settle()
            box.hand("azimuth turn -12 clicks in 1s")
            box.hand("stick to 90% 10% in 1s")
            answers = [box.ask("?\n", after_s=0.08) for _ in range(ASKED)]
            require(",3588,0," in answers[-1], "12 clicks back from 0:", answers[-1])
        else:
            box.hear(12)  # then the board runs
        box.say(command)
        box.wait_until(lambda: shown(recording).items() >= wanted.items(),
                       lambda: "%r set %r" % (command, shown(recording)))
    run("replay", recording, "--verify")
    return READERS[name]("\n".join(answers).replace("\r", "")) if answers else (0, 0)


def shown(recording):
    """What each output was last set to."""
    numbers = {}
    with open(recording, encoding="utf-8") as file:
        for line in file:
            if '"output"' in line and line.endswith("\n"):
                event = json.loads(line)
                name = event["output"] + ("." + event["part"] if "part" in event else "")
                numbers[name] = event["number"]
    return numbers


def main():
    panels = sorted(glob.glob(os.path.join(SCENARIOS, "*/*.panel.toml")))
    names = [os.path.basename(panel).split(".")[0] for panel in panels]
    require(set(names) == set(READERS), "panels without a reader or the other way round:", names)
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for name, panel in zip(names, panels):
            try:
                check_remarks(name, panel)
                emitted = check_emitted(name, panel, folder)
                answered = check_commanded(name, panel, folder)
                count, kinds = (sum(pair) for pair in zip(emitted, answered))
                require(count >= 20 and kinds >= 4, "only", count, "lines,", kinds, "different")
                print("%s: %d lines, %d different, as they should be" % (name, count, kinds))
            except (AssertionError, RuntimeError, ValueError, KeyError) as trouble:
                wrong += 1
                print("%s: %s: %s" % (name, type(trouble).__name__, trouble))
    return 1 if wrong else 0


sys.exit(main())
