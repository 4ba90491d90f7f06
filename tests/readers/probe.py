# The Python panel reader in the same test program as probe.cpp, which says what it does.
import gc
import locale
import os
import sys
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "../../protocol/readers"))
from panel_reader import OneEuro, PanelReader

FRAME_S, PIECE_BYTES, HOUR_LINES = 0.016, 23, 180000


def values_of(panel, fields):
    return ",".join(str(panel.value(field)) for field in range(fields))


def judge_lines(fields, path):
    with open(path, "rb") as file:
        data = file.read()
    each = PanelReader(fields, "none")
    for line in data.split(b"\n")[:-1]:
        before = each.good_lines
        each.feed(line + b"\n")
        print("good " + values_of(each, fields) if each.good_lines > before else "bad")
    total = PanelReader(fields, "none")
    for at in range(0, len(data), PIECE_BYTES):
        total.feed(data[at:at + PIECE_BYTES])
    edges = ["%d/%d" % (total.pressed(i), total.released(i)) for i in range(fields)]
    print("total", total.good_lines, total.bad_lines, values_of(total, fields), *edges)


def shape(path):
    print(locale.localeconv()["decimal_point"])
    panel = euro = None
    with open(path, encoding="ascii") as file:
        orders = [line.split() for line in file]
    for verb, *words in orders:
        if verb == "reader":
            fields = int(words[0])
            panel = PanelReader(fields, "none")
        elif verb == "euro":
            euro = OneEuro(*map(float, words))
        elif verb == "sample":
            print("%.12f" % euro.filter(float(words[1]), float(words[0])))
        elif verb == "line":
            panel.feed(words[1].encode() + b"\n", float(words[0]))
            print(*("%.12f" % panel.axis(field) for field in range(fields)))
        else:
            getattr(panel, verb)(int(words[0]), *(float(word) for word in words[1:]))


def live_an_hour(flag):
    panel = PanelReader(3, "none")
    panel.learn_ends(0)
    panel.centre(1, 512, 0.1)
    panel.smooth(1)
    for n in range(HOUR_LINES):
        if n == HOUR_LINES // 10:
            gc.collect()
            print("warm", flush=True)
        good = b"%d,%d,1\n" % (n % 1024, n * 7 % 1024)
        panel.feed(good if n % 10 else b"x" * 300 + b"\n", n / 50)
    gc.collect()
    print("done", panel.good_lines, flush=True)
    while os.path.exists(flag):
        time.sleep(FRAME_S)


def play(fields, address, flag, lamps):
    panel = PanelReader(fields, address)
    while os.path.exists(flag):
        begun = time.monotonic()
        panel.poll()
        lamps[:2] = [panel.value(0) // 4, 255 if panel.down(1) else 0]
        panel.set_lamps(lamps)
        panel.witness("in play", panel.value(0), panel.down(1), 0.25)
        took = int((time.monotonic() - begun) * 1e6)
        print(took, panel.state(), panel.good_lines, panel.bad_lines, values_of(panel, fields),
              panel.pressed(1), panel.released(1), panel.trouble, flush=True)
        time.sleep(FRAME_S)
    panel.close()


try:
    locale.setlocale(locale.LC_ALL, "")
except locale.Error:
    pass  # not on this system: the readers don't care, and the tests that do look at the answer
verb, words = sys.argv[1], sys.argv[2:]
if verb == "lines":
    for fields, path in zip(words[0::2], words[1::2]):
        judge_lines(int(fields), path)
elif verb == "shape":
    shape(words[0])
elif verb == "hour":
    live_an_hour(words[0])
else:
    play(int(words[0]), words[1], words[2], [int(words[4])] * int(words[3]))
