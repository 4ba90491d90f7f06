# Random clicks, drags, wheels and keys, with a game that sends lamps and a panel file that
# changes: nothing crashes, memory stays, lines go on. A window that hands closed by its menu is
# opened again. Some seconds here; `--seconds 1800` for half an hour.
import argparse
import os
import random
import shutil
import sys
import time

from stage import TRAM, Display, Stage, wait_until

KEYS = ["Tab", "shift+Tab", "Return", "space", "Up", "Down", "Left", "Right", "Home", "End",
        "Prior", "Next", "Escape", "b", "w", "s", "plus", "minus", "ctrl+z", "ctrl+shift+z",
        "Menu", "a", "1"]
# The first changes the window's size under the places, the last ends it.
LEAVE_ALONE = {"Compact", "Keep on top", "Close the window"}


def one_act(display, draw, place, size):
    kind = draw.random()
    if kind < 0.35:
        display.do("mousemove", *place, "click", draw.choice([1, 1, 1, 3, 2]))
    elif kind < 0.55:
        display.do("mousemove", *place, "mousedown", 1, "mousemove", draw.randrange(size[0]),
                   draw.randrange(size[1]), "mouseup", 1)
    elif kind < 0.7:
        display.do("mousemove", *place, "click", draw.choice([4, 5]))
    else:
        display.do("key", draw.choice(KEYS))


def avoid(stage, draw, width, height):
    """A drawing of places that leaves alone what would end the test rather than the program."""
    for _ in range(20):
        x, y = draw.randrange(width), draw.randrange(height)
        boxes = [box for label, box in stage.places().get("buttons", {}).items()
                 if label in LEAVE_ALONE]
        if not any(box[0] <= x <= box[2] and box[1] <= y <= box[3] for box in boxes):
            return x, y
    return 5, height - 5


def opened(stage):
    game = stage.game()
    wait_until("lines", 10, game.numbers)
    return game


def was_closed(stage):
    """Whether hands found a way to close it, and it ended as one that is closed ends."""
    if stage.running():
        return False
    assert stage.program.returncode == 0, (stage.program.returncode, stage.said())
    return True


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, default=20)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    folder = f"/tmp/understudy-random-{os.getpid()}"
    shutil.copytree(os.path.dirname(TRAM), folder, ignore=shutil.ignore_patterns("game"))
    path = os.path.join(folder, os.path.basename(TRAM))
    width, height = 1200, 700
    display = Display(width, height)
    arguments = ["--size", f"{width}x{height}"]
    stage = Stage(display, panel=path, arguments=arguments)
    try:
        game = opened(stage)
        draw = random.Random(options.seed)
        begun = time.monotonic()
        warm = None
        acts = closed = 0
        while time.monotonic() - begun < options.seconds:
            one_act(display, draw, avoid(stage, draw, width, height), (width, height))
            acts += 1
            if was_closed(stage):
                stage = Stage(display, panel=path, arguments=arguments)
                game = opened(stage)
                closed += 1
                warm = None
            game.send(f"{draw.randrange(256)},0,{draw.randrange(256)},{draw.randrange(256)},40,130")
            game.read()
            del game.lines[:-50]
            if acts % 40 == 0:
                os.utime(path)
            if warm is None and time.monotonic() - begun > min(60, options.seconds / 2):
                warm = stage.memory_kb()
        last = stage.memory_kb()
        warm = warm or last
        print(f"{acts} acts, seed {options.seed}, closed {closed} times, "
              f"memory {warm} kB, at the end {last} kB")
        assert last < warm + 16_000, (warm, last)
        display.do("key", "Escape")
        seen = len(game.lines)
        game.read(1.0)
        assert len(game.lines) > seen, "no lines any more"
        game.close()
        return stage.end() not in (0, 130)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


sys.exit(main())
