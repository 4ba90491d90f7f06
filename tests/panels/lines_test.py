# Each kind of control and output by itself: the bytes that one sends while a hand moves it, and
# what one does with lines from a game, held to the approved files in tests/golden/lines. Those of
# controls come from `emit`, in virtual time. Those of outputs come from `serve`, which is asked
# after each line whether it is done, so that no clock decides.
# With UNDERSTUDY_APPROVE=1 the files are written instead (cmake --build build --target approve).
import json
import os
import subprocess
import sys
import tempfile

from talking import Box, program

GOLDEN = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "tests/golden/lines")
SEED, LENGTH = "7", "5s"  # the board starts within 1.8 s

CONTROLS = {
    "pot": ["power to 100% in 1s from 2s", "power to 30% in 0.5s from 4s"],
    "button": ["bell press from 2s", "bell press 4ms from 2.5s", "bell down from 3s for 1s"],
    "switch": ["sander on from 2s", "sander off from 3s", "sander on from 3.05s"],
    "selector": ["lights to FULL in 0.3s from 2s", "lights previous from 3s",
                 "lights to 1 from 4s"],
    "stick": ["stick to 100% 0% in 0.3s from 2s", "stick let go from 3s",
              "stick press 0.3s from 4s"],
    "encoder": ["knob turn 5 clicks from 2s", "knob turn -8 clicks in 0.2s from 3s"],
    "sensor": [],
    "matrix": ["a down from 2s for 2s", "b down from 2.5s for 1s", "c down from 3s for 1.5s"],
}
OUTPUTS = {
    "lamp": ["255", "128", "0", "300", "-5", "x", "12x7"],
    "rgb": ["255,0,0", "255,128,0", "1,2", "0,0,0,9", "300,0,-1"],
    "gauge": ["40", "80", "81", "0", "99999999999"],
    "buzzer": ["sounds", "silent", "SOUNDS", "sounds ", "sounds"],
    "pitched_buzzer": ["440", "2000", "0", "2001", "-1"],
    "digits": ["123.4", "0.0", "359.9", "360.0", "12", "7.5"],
}


def of_control(kind, panel, _):
    words = [word for hand in CONTROLS[kind] for word in ("--hand", hand)]
    lines = subprocess.run([program(), "emit", panel, "--seed", SEED, "--for", LENGTH, "--quiet",
                            *words], check=True, capture_output=True).stdout.decode("ascii")
    assert lines.endswith("\n") and lines.count("\n") >= 3, "%s: only %r" % (kind, lines)
    told = "".join("# %s\n" % hand for hand in CONTROLS[kind])
    return told + lines


def of_output(kind, panel, folder):
    recording = os.path.join(folder, kind + ".jsonl")
    with Box(panel, "--seed", SEED, "--record", recording) as box:
        box.ask("done?\n", again=True)
        for line in OUTPUTS[kind]:
            box.say(line + "\n")
            box.ask("done?\n")
    subprocess.run([program(), "replay", recording, "--verify", "--quiet"], check=True)
    told, said = [], ""
    with open(recording, encoding="ascii") as file:
        for event in map(json.loads, file):
            if event.get("from") == "game":
                said += event["text"]
                *whole, said = said.split("\n")
                told += ["> " + line for line in whole if line != "done?"]
            elif "output" in event:
                name = event["output"] + ("." + event["part"] if "part" in event else "")
                told.append("  %s %d" % (name, event["number"]))
    assert [line[2:] for line in told if line[0] == ">"] == OUTPUTS[kind], told
    return "\n".join(told) + "\n"


def is_approved(kind, text):
    path = os.path.join(GOLDEN, kind + ".txt")
    if os.environ.get("UNDERSTUDY_APPROVE") == "1":
        with open(path, "w", encoding="ascii") as file:
            file.write(text)
        return True
    with open(path, encoding="ascii") as file:
        approved = file.read().split("\n")
    found = text.split("\n")
    if found == approved:
        return True
    at = next((i for i, pair in enumerate(zip(found, approved)) if pair[0] != pair[1]),
              min(len(found), len(approved)))
    print("%s.txt:%d: approved %r, now %r" % (kind, at + 1, approved[at:at + 1], found[at:at + 1]))
    return False


def main():
    kinds, make = {"controls": (CONTROLS, of_control), "outputs": (OUTPUTS, of_output)}[sys.argv[1]]
    with tempfile.TemporaryDirectory() as folder:
        good = [is_approved(kind, make(kind, os.path.join(GOLDEN, kind + ".panel.toml"), folder))
                for kind in kinds]
    print("%d of %d kinds of %s as approved" % (sum(good), len(good), sys.argv[1]))
    return 0 if all(good) else 1


sys.exit(main())
