# At any size and scale all parts of all panels lie on the face, none over another, and the areas
# lie beside it; resized, the window follows. Idle it draws next to nothing.
import itertools
import os
import sys
import time

from stage import SOURCE, Display, Stage, wait_until

PANELS = ["tram", "quiz", "telescope", "greenhouse", "organ"]
STRIP = ["Open...", "Edit", "Areas", "Keep on top", "Compact"]
SIZES = [(800, 500), (1280, 720), (2560, 1440)]


def panel_of(name):
    folder = os.path.join(SOURCE, "scenarios", name)
    return next(os.path.join(folder, file) for file in sorted(os.listdir(folder))
                if file.endswith(".panel.toml"))


def overlap(one, other):
    return (min(one[2], other[2]) - max(one[0], other[0]) > 1
            and min(one[3], other[3]) - max(one[1], other[1]) > 1)


def look_at(stage, width, height, what):
    places = stage.places()
    parts = places["parts"]
    for name, box in parts.items():
        inside = box[0] >= 0 and box[1] >= 0 and box[2] <= width and box[3] <= height
        assert inside, (what, name, box)
        assert box[2] - box[0] >= 6, (what, name, box)
    for (name, box), (other, beside) in itertools.combinations(parts.items(), 2):
        assert not overlap(box, beside), (what, name, other)
    for label in STRIP:
        box = places["buttons"][label]
        assert 0 <= box[0] < box[2] <= width and box[3] <= height, (what, label, box)


def resized(stage, width, height):
    window = stage.display.do("search", "--onlyvisible", "--pid", stage.program.pid).split()[0]
    stage.display.do("windowsize", window, width, height)
    time.sleep(0.3)
    stage.display.do("windowmove", window, 2, 2)
    time.sleep(0.2)
    stage.display.do("windowmove", window, 0, 0)  # without a window manager only a change is told
    wait_until("the window's size", 5, lambda: stage.box("window", "window") == [
        0, 0, width, height])
    time.sleep(0.6)


def every_panel_fits_every_size(display):
    for name in PANELS:
        stage = Stage(display, panel=panel_of(name), arguments=["--size", "1280x720"])
        for width, height in SIZES:
            resized(stage, width, height)
            look_at(stage, width, height, f"{name} at {width}x{height}")
        stage.end()


def twice_the_scale_fits(display):
    stage = Stage(display, arguments=["--size", "2560x1440", "--scale", "2"])
    resized(stage, 2560, 1440)
    look_at(stage, 2560, 1440, "tram at 200 %")
    stage.end()


def idle_costs_next_to_nothing(display):
    """With no game connected and nobody moving: frames are few. What it takes exactly is measured
    in docs/performance.md; here is room for slow machines and builds without optimising."""
    stage = Stage(display, arguments=["--size", "1280x720"])
    time.sleep(3)
    before = stage.cpu_seconds()
    time.sleep(10)
    used = (stage.cpu_seconds() - before) / 10
    print(f"idle: {used * 100:.1f} % of a core")
    assert used < 0.15, used
    stage.end()


def main():
    display = Display(2560, 1440)
    for claim in (every_panel_fits_every_size, twice_the_scale_fits, idle_costs_next_to_nothing):
        claim(display)
        print("ok:", claim.__name__)
    return 0


sys.exit(main())
