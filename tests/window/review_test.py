# A recording in the window: it plays by the clock, goes where the time line is pressed and to each
# line, repeats a part, and lets a person move one control while the rest goes on.
import json
import os
import subprocess
import sys
import tempfile
import time

from stage import PROGRAM, TRAM, Display, Stage, wait_until

LENGTH = 20.0  # seconds


def recorded(folder):
    path = os.path.join(folder, "evening.jsonl")
    subprocess.run([PROGRAM, "emit", TRAM, "--play", "wander", "--for", f"{LENGTH:.0f}s",
                    "--record", path], check=True, stdout=subprocess.DEVNULL,
                   stderr=subprocess.DEVNULL)
    return path


def seconds_of(text):
    whole = 0.0
    for part in text.split(":"):
        whole = whole * 60 + float(part)
    return whole


def place(stage):
    """Where it stands, in seconds, as the window writes it; and the whole length."""
    texts = wait_until("the time", 5, lambda: list(stage.places().get("time", {})))
    at, length = texts[0].split(" of ")
    return seconds_of(at), seconds_of(length)


def settled(stage):
    """Where it stands once that does not change any more."""
    before = place(stage)[0]
    time.sleep(0.25)
    return before if place(stage)[0] == before else None


def stands(stage):
    return wait_until("it stands still", 5, lambda: [settled(stage)] if
                      settled(stage) is not None else None)[0]


def press(stage, word):
    stage.display.click(stage.middle("buttons", word))
    time.sleep(0.3)


def press_at(stage, share):
    left, top, right, bottom = stage.box("places", "time line")
    stage.display.click((left + (right - left) * share, (top + bottom) / 2))
    time.sleep(0.4)


def it_opens_at_the_beginning_and_waits(stage, _):
    assert stands(stage) == 0.0
    assert abs(place(stage)[1] - LENGTH) < 0.001, place(stage)


def it_plays_by_the_clock_and_pauses(stage, _):
    press(stage, "Play")
    began, at = time.monotonic(), place(stage)[0]
    time.sleep(3)
    gone, passed = place(stage)[0] - at, time.monotonic() - began
    press(stage, "Stop")
    assert abs(gone - passed) < 0.8, (gone, passed)
    stands(stage)


def a_press_on_the_line_goes_there(stage, _):
    for share in (0.75, 0.25, 0.5):
        press_at(stage, share)
        assert abs(stands(stage) - share * LENGTH) < 0.05, (share, stands(stage))


def lines_are_gone_through_one_by_one(stage, ends):
    press_at(stage, 0.5)
    here = stands(stage)
    after = [end for end in ends if end > here + 0.0005]
    for expected in after[:3]:
        press(stage, "Next line")
        assert abs(stands(stage) - expected) < 0.0011, (stands(stage), expected)
    press(stage, "Line before")
    assert abs(stands(stage) - after[1]) < 0.0011, (stands(stage), after[1])


def a_part_is_repeated(stage, _):
    press_at(stage, 0.30)
    press(stage, "Repeat from here")
    press_at(stage, 0.35)
    press(stage, "... to here")
    press(stage, "Play")
    seen = []
    for _ in range(12):
        time.sleep(0.2)
        seen.append(place(stage)[0])
    press(stage, "Stop")
    press(stage, "Repeat no more")
    assert all(0.29 * LENGTH < at < 0.36 * LENGTH for at in seen), seen
    assert any(later < earlier for earlier, later in zip(seen, seen[1:])), seen


def a_control_is_taken_over_and_given_back(stage, _):
    press_at(stage, 0.5)
    x, y = stage.middle("handles", "power")
    foot = list(stage.places()["foot"])
    assert "yours" not in foot[0], foot
    stage.display.drag((x, y), (x, y + 60))
    wait_until("power is taken over", 3, lambda: "Power" in str(list(stage.places()["foot"])) or
               "power is yours" in str(list(stage.places()["foot"])))
    moved = stage.middle("handles", "power")[1]
    assert abs(moved - (y + 60)) < 15, (y, moved)
    press_at(stage, 0.5)
    wait_until("power is given back", 3, lambda: "yours" not in str(list(stage.places()["foot"])))
    assert abs(stage.middle("handles", "power")[1] - y) < 3


CLAIMS = [it_opens_at_the_beginning_and_waits, it_plays_by_the_clock_and_pauses,
          a_press_on_the_line_goes_there, lines_are_gone_through_one_by_one, a_part_is_repeated,
          a_control_is_taken_over_and_given_back]


def main():
    with tempfile.TemporaryDirectory() as folder:
        path = recorded(folder)
        with open(path, encoding="utf-8") as file:
            events = [json.loads(line) for line in file]
        ends = [event["ns"] / 1e9 for event in events
                if event.get("from") == "panel" and "\n" in event.get("text", "")]
        stage = Stage(Display(), path, links=False)
        failed = 0
        for claim in CLAIMS:
            try:
                claim(stage, ends)
                print("ok:", claim.__name__)
            except (AssertionError, KeyError, IndexError) as what:
                failed += 1
                print("FAILED:", claim.__name__, what)
        assert stage.running(), stage.said()
        return 1 if failed else stage.end() not in (0, 130)


sys.exit(main())
