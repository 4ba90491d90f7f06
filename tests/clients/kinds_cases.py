# The panels of the test of all kinds: for each kind of control what hands do and what a game must
# then read, for each kind of output what a game writes and what must become of it. Names of the
# kinds and of their keys are `understudy explain`'s. All expected numbers follow from what a panel
# says of itself: a share of the travel between the two ends of `sends`, a word for each place.
import math
import re


def near(expected, tolerance):
    """Numbers of a line in commas, each as near as this; those expected as text are exact."""
    def is_near(found, wish):
        return found == wish if isinstance(wish, str) else abs(float(found) - wish) <= tolerance

    def holds(line):
        found = line.split(",")
        return len(found) == len(expected) and all(map(is_near, found, expected))
    return holds


def equal(expected):
    return lambda line: line == expected


def control(kind, keys, shape, steps, law=lambda lines: True):
    """`steps`: what a hand does, and the line that must come of it. `shape`: of every line; `law`
    holds over all of them."""
    panel = 'panel = "One %s"\n%s' % (kind, keys)
    return {"kind": kind, "panel": panel, "shape": re.compile(shape), "steps": steps, "law": law,
            "write": (), "becomes": []}


def output(kind, keys, write, becomes, manners=""):
    """`write`: lines of the game; `becomes`: part and number of what the output then shows."""
    panel = ('panel = "One %s"\n%s[[control]]\nname = "bell"\nkind = "button"\n'
             '[[output]]\nname = "it"\nkind = "%s"\n%s' % (kind, manners, kind, keys))
    return {"kind": kind, "panel": panel, "shape": re.compile("[01]"), "steps": [],
            "law": lambda lines: True, "write": write, "becomes": becomes}


def one_control(kind, keys):
    return '[[control]]\nname = "it"\nkind = "%s"\n%s' % (kind, keys)


def counts_as_turned(lines):
    """The steps add up to the count, and the count passes each detent on its way: +3, then -5. The
    client may have joined after its start, but not after a turn."""
    pairs = [tuple(map(int, line.split(","))) for line in lines]
    counts = [count for count, _ in pairs]
    return (all(after - before == step for (before, _), (after, step) in zip(pairs, pairs[1:]))
            and set(counts) == set(range(-2, 4)))


# A sine of 2 s that goes 25 % of the range 0.0 to 80.0 to either side of its middle; the converter
# of 10 bits rounds to 0.08, and its noise is about as much.
SINE_MIDDLE, SINE_SWING, SINE_PERIOD_S, SINE_TOLERANCE = 40, 20, 2, 0.5
LINES_A_SECOND = 50


def goes_like_a_sine(lines):
    """It reaches both ends, goes beyond neither, and is never faster than a sine is."""
    numbers = [float(line) for line in lines]
    fastest = SINE_SWING * 2 * math.pi / SINE_PERIOD_S / LINES_A_SECOND
    steps = [abs(after - before) for before, after in zip(numbers, numbers[1:])]
    return (abs(max(numbers) - SINE_MIDDLE - SINE_SWING) <= SINE_TOLERANCE
            and abs(min(numbers) - SINE_MIDDLE + SINE_SWING) <= SINE_TOLERANCE
            and max(steps) <= 1.1 * fastest + SINE_TOLERANCE)


MATRIX = ('[matrix]\nrows = ["D4", "D5"]\ncolumns = ["D6", "D7"]\ndiodes = false\n' + "".join(
    '[[control]]\nname = "%s"\nkind = "button"\ncell = %s\nsends = [0, 1]\n' % (name, cell)
    for name, cell in (("a", [1, 1]), ("b", [1, 2]), ("c", [2, 1]), ("d", [2, 2]))))

CONTROLS = {
    "pot": control(
        "pot", one_control("pot", "sends = [-1.00, 1.00]\ndecimals = 2\n"), r"-?[01]\.[0-9]{2}",
        [("it to 100%", near([1], 0.02)), ("it to 25% in 200ms", near([-0.5], 0.02)),
         ("it to 0%", near([-1], 0.02))]),
    "button": control(
        "button", one_control("button", 'sends = ["up", "DOWN"]\n'), "up|DOWN",
        [("it down", equal("DOWN")), ("it up", equal("up")), ("it press 300ms", equal("DOWN")),
         (None, equal("up"))]),
    "switch": control(
        "switch", one_control("switch", ""), "[01]",  # a pull-up reads 1 while it is open
        [("it on", equal("0")), ("it off", equal("1")), ("it on", equal("0"))],
        lambda lines: lines[0] == "1" and lines[-1] == "0"),
    "selector": control(
        "selector", one_control("selector", 'sends = ["OFF", "DIM", "FULL", "FLASH"]\n'),
        "OFF|DIM|FULL|FLASH",
        [("it to FLASH", equal("FLASH")), ("it previous", equal("FULL")),
         ("it to 2", equal("DIM"))],
        lambda lines: lines[0] == "OFF" and lines[-1] == "DIM"),
    "stick": control(
        "stick", one_control("stick", 'sends = [-100, 100]\npress_sends = [0, 1]\n'),
        "-?[0-9]{1,3},-?[0-9]{1,3},[01]",
        [("it to 100% 0%", near([100, -100, "0"], 2)), ("it.y to 75%", near([100, 50, "0"], 2)),
         ("it.press down", near([100, 50, "1"], 2)), ("it let go", near([0, 0, "1"], 2)),
         ("it.press up", near([0, 0, "0"], 2))]),
    "encoder": control(
        "encoder", one_control("encoder", 'read = "every edge"\n'), "-?[0-9]+,-?[0-9]+",
        [("it turn 3 clicks", equal("3,0")), ("it turn -5 clicks", equal("-2,0"))],
        counts_as_turned),
    "sensor": control(
        "sensor", one_control("sensor", 'sends = [0.0, 80.0]\ndecimals = 1\ncourse = "sine"\n'
                              'level = "50 %"\nswing = "25 %"\nperiod = "2 s"\n'),
        r"[0-9]{2}\.[0-9]",
        # Nobody moves it, so these wait; and again, for a whole round at least.
        [(None, near([SINE_MIDDLE + SINE_SWING], SINE_TOLERANCE)),
         (None, near([SINE_MIDDLE - SINE_SWING], SINE_TOLERANCE)),
         (None, near([SINE_MIDDLE + SINE_SWING], SINE_TOLERANCE))], goes_like_a_sine),
    # The textbook case: without diodes three corners of a rectangle that are down close a way to
    # the fourth.
    "matrix": control(
        "matrix", MATRIX, "[01],[01],[01],[01]",
        [("a down", equal("1,0,0,0")), ("b down", equal("1,1,0,0")), ("c down", equal("1,1,1,1")),
         ("b up", equal("1,0,1,0"))]),
}

OUTPUTS = {
    "lamp": output("lamp", 'takes = ["dark", "dim", "bright"]\n', ("bright", "dim"),
                   [(None, 2), (None, 1)], '[manners]\nparse = "whole line"\n'),
    "rgb": output("rgb", "", ("255,128,7", "0,128,9"),
                  [("r", 255), ("g", 128), ("b", 7), ("r", 0), ("b", 9)]),
    "gauge": output("gauge", "takes = [0, 80]\n", ("55", "12"), [(None, 55), (None, 12)]),
    "buzzer": output("buzzer", 'sounds = "at the pitch given"\ntakes = [0, 4000]\n'
                     'driven = "by a transistor"\n', ("2700", "0"), [(None, 2700), (None, 0)]),
    "digits": output("digits", "", ("1234", "7"), [(None, 1234), (None, 7)]),
}
