# What the panel readers make of a field as an axis: calibration, dead zones, learned ends and
# smoothing, in values worked out by hand; ten thousand seeded lines shaped in all languages alike;
# all of it in a locale with decimal commas; and an hour of lines without growth. The filter itself
# is held to its authors' values in tests/reference. Argument: the C++ probe.
import concurrent.futures
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time

from languages import comma_locale, own_words, reader_programs, run_probe

SEED, LINES, AGREE, CALM_LINES = 47, 10000, 1e-9, 2000
HOUR_GOOD = 162000  # of 180000 lines; each tenth is noise

# Orders for one field and, behind each line, the axis worked out by hand.
WORKED = [
    ("before any line an axis is 0, whatever its ends are",
     ["calibrate 0 900 100"], [("x", 0.0)]),
    ("without calibration 0 to 1023", [], [(0, 0.0), (1023, 1.0), (341, 1 / 3)]),
    ("between the ends it is a share, beyond them full or none",
     ["calibrate 0 100 900"], [(100, 0.0), (500, 0.5), (900, 1.0), (50, 0.0), (950, 1.0)]),
    ("ends the other way round reverse it",
     ["calibrate 0 900 100"], [(900, 0.0), (300, 0.75), (50, 1.0)]),
    ("dead ends are taken out of the travel: (275 - 50) / 900",
     ["calibrate 0 0 1000", "dead_ends 0 0.05"],
     [(50, 0.0), (275, 0.25), (500, 0.5), (950, 1.0), (999, 1.0)]),
    ("with a middle each side has its own length",
     ["calibrate 0 0 1000", "centre 0 400 0"], [(400, 0.0), (700, 0.5), (100, -0.75), (0, -1.0)]),
    ("a dead middle begins without a jump: 1 / 540, and (730 - 460) / 540",
     ["calibrate 0 0 1000", "centre 0 400 0.1"],
     [(460, 0.0), (461, 1 / 540), (730, 0.5), (360, 0.0), (180, -0.5), (0, -1.0), (1000, 1.0)]),
    ("both kinds of dead zone, reversed",
     ["calibrate 0 1000 0", "centre 0 500 0.1", "dead_ends 0 0.1"],
     [(550, 0.0), (750, -0.5), (950, -1.0), (250, 0.5), (50, 1.0)]),
    ("learned ends widen to what came: (600 - 200) / 800",
     ["calibrate 0 400 600", "learn_ends 0"],
     [(500, 0.5), (200, 0.0), (1000, 1.0), (600, 0.5)]),
    ("learned ends stay the way round that they were",
     ["calibrate 0 600 400", "learn_ends 0"], [(200, 1.0), (1000, 0.0), (600, 0.5)]),
    ("ends that are one are no division by nothing", ["calibrate 0 7 7"], [(7, 0.0), (8, 0.0)]),
    ("the first smoothed value is the first value, and what rests stays",
     ["calibrate 0 0 1000", "smooth 0 1 5"], [(250, 0.25), (250, 0.25)]),
]


def worked_orders():
    orders, expected = [], []
    for words, setup, pairs in WORKED:
        orders += ["reader 1"] + setup
        for number, (value, axis) in enumerate(pairs):
            orders.append("line %.2f %s" % (1 + number / 50, value))
            expected.append(("%s: after %s" % (words, value), axis))
    return orders, expected


def seeded_orders():
    """A box of four fields whose lines come unevenly, in knocks, rests, sweeps and noise."""
    chance = random.Random(SEED)
    orders, now = [], 1.0
    for number in range(LINES):
        if number % 500 == 0:
            ends = [chance.randint(-2000, 5000) for _ in range(8)]
            orders += ["reader 4"]
            orders += ["calibrate %d %d %d" % (i, ends[i], ends[i + 4]) for i in range(4)]
            orders += ["centre %d %d %.3f" % (i, chance.randint(-500, 3000), chance.uniform(0, 0.3))
                       for i in (1, 3)]
            orders += ["dead_ends %d %.3f" % (i, chance.uniform(0, 0.2)) for i in (1, 2)]
            orders += ["smooth %d %.3f %.3f" % (i, chance.uniform(0.3, 5), chance.uniform(0, 20))
                       for i in (2, 3)]
            orders += ["learn_ends %d" % i for i in (0, 3)]
            at = [1000] * 4
        at = [chance.choice([n, n + chance.randint(-3, 3), n + 40, chance.randint(-3000, 6000)])
              for n in at]
        now += chance.choice([0, 0.001, 0.02, 0.02, 0.02, 0.25, 3])
        orders.append("line %.6f %s" % (now, ",".join(map(str, at))))
    return orders


def smoothing_orders():
    """A pot at rest with noise of 1.5 steps, then swept over its travel in half a second."""
    chance = random.Random(SEED)
    noisy = [512 + round(chance.gauss(0, 1.5)) for _ in range(CALM_LINES)]
    sweep = [0] * 100 + [round(1023 * n / 25) for n in range(1, 26)] + [1023] * 25
    orders = ["reader 1", "smooth 0 1 5"]
    orders += ["line %.2f %d" % (1 + n / 50, value) for n, value in enumerate(noisy)]
    orders += ["reader 1", "smooth 0 1 5"]
    return orders + ["line %.2f %d" % (1 + n / 50, value) for n, value in enumerate(sweep)], noisy


def complaints_about_smoothing(command, folder, environment):
    """By C++ alone; the others are equal to it."""
    orders, noisy = smoothing_orders()
    _, rows = shaped("C++", command, orders, folder, environment)
    axes = [row[0] for row in rows]
    settled = slice(100, CALM_LINES)  # after two seconds
    calmed = (statistics.pstdev(noisy[settled]) / 1023) / statistics.pstdev(axes[settled])
    sweep = axes[CALM_LINES + 100:]
    late = max(20 * (1 + next(i for i, axis in enumerate(sweep) if axis >= share)) - 500 * share
               for share in (0.1, 0.3, 0.5, 0.7, 0.9, 0.98))
    print("smoothing: noise / %.1f, sweep at most %.0f ms late" % (calmed, late))
    if calmed < 3:
        yield "smoothing takes noise down to 1 / %.1f only" % calmed
    if late > 40:
        yield "smoothing makes a quick sweep %.0f ms late" % late


def shaped(language, command, orders, folder, environment):
    """The decimal point of the probe's locale, and the axes after each line."""
    path = os.path.join(folder, language + ".orders")
    with open(path, "w", encoding="ascii") as file:
        file.write("\n".join(orders) + "\n")
    point, *rows = run_probe(language, command, ["shape", path], environment)
    return point, [[float(word) for word in row.split()] for row in rows]


def memory_kib(process):
    with open("/proc/%d/statm" % process.pid, encoding="ascii") as file:
        return int(file.read().split()[1]) * os.sysconf("SC_PAGESIZE") // 1024


def growth_in_an_hour(language, command, folder):
    """KiB that the probe grew by over nine tenths of an hour's lines, and the good ones in all."""
    flag = os.path.join(folder, language + ".flag")
    open(flag, "w").close()
    # A sanitizer would keep what was freed, and that would look like growth.
    options = os.environ.get("ASAN_OPTIONS", "") + ":quarantine_size_mb=0"
    process = subprocess.Popen(command + ["hour", flag], stdout=subprocess.PIPE,
                               stderr=subprocess.DEVNULL, text=True,
                               env={**os.environ, "ASAN_OPTIONS": options})
    warm, good = None, 0
    for line in process.stdout:
        words = (own_words(language, line.rstrip("\n")) or "").split()
        if words[:1] == ["warm"]:
            warm = memory_kib(process)
        if words[:1] == ["done"]:
            good = int(words[1])
            grown = memory_kib(process) - warm
            os.remove(flag)
    process.wait()
    return grown, good


# A reader that kept ten bytes of each line would grow by 1600 KiB. What is collected now and then
# comes and goes; measured: C++ 128, C# 0 to 1032, JavaScript 180, the others 0 to 32.
GROWTH_KIB_MAX = {"C#": 1536, "JavaScript": 1536}
GROWTH_KIB_MAX_ELSE = 512


def prove(language, command, folder, environment):
    """(complaints, rows of the seeded orders) of one language."""
    orders, expected = worked_orders()
    point, rows = shaped(language, command, orders + seeded_orders(), folder, environment)
    failures = []
    for (words, want), row in zip(expected, rows):
        if abs(row[0] - want) > AGREE:
            failures.append("%s: %s it is %r, worked out %r" % (language, words, row[0], want))
    # GDScript alone knows no locales.
    if (point == ",") == (language == "GDScript"):
        failures.append("%s: ran with decimal point %r, which proves nothing" % (language, point))
    begun = time.monotonic()
    grown, good = growth_in_an_hour(language, command, folder)
    print("%s: an hour of lines in %.1f s, grew by %d KiB"
          % (language, time.monotonic() - begun, grown), flush=True)
    if good != HOUR_GOOD:
        failures.append("%s: %d of %d good lines taken" % (language, good, HOUR_GOOD))
    if grown > GROWTH_KIB_MAX.get(language, GROWTH_KIB_MAX_ELSE):
        failures.append("%s: grew by %d KiB in an hour" % (language, grown))
    return failures, rows[len(expected):]


def compare(cpp_program, folder):
    programs = reader_programs(cpp_program, folder)
    environment = comma_locale(folder)
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        work = lambda item: prove(*item, folder, environment)
        proofs = dict(zip(programs, pool.map(work, programs.items())))
    failures, judge = sum((failed for failed, _ in proofs.values()), []), proofs["C++"][1]
    for language, (_, rows) in proofs.items():
        if len(rows) != LINES:
            failures.append("%s: %d rows for %d lines" % (language, len(rows), LINES))
        apart = max(abs(a - b) for row, other in zip(rows, judge) for a, b in zip(row, other))
        print("%s: at most %.1e from C++ over %d lines" % (language, apart, len(rows)))
        if apart > AGREE:
            failures.append("%s: %g away from C++" % (language, apart))
    failures += complaints_about_smoothing(programs["C++"], folder, environment)
    values = {value for row in judge for value in row}
    if len(values) < LINES:
        failures.append("only %d values seen: too few to prove anything" % len(values))
    return failures


with tempfile.TemporaryDirectory() as work_folder:
    complaints = compare(sys.argv[1], work_folder)
print("\n".join(complaints))
sys.exit(1 if complaints else 0)
