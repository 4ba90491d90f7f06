# The Python panel reader in the same test program as probe.cpp, which says what it does.
import os
import sys
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "../../protocol/readers"))
from panel_reader import PanelReader

FRAME_S, PIECE_BYTES = 0.016, 7


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


def play(fields, address, flag, lamps):
    panel = PanelReader(fields, address)
    while os.path.exists(flag):
        begun = time.monotonic()
        panel.poll()
        lamps[:2] = [panel.value(0) // 4, 255 if panel.down(1) else 0]
        panel.set_lamps(lamps)
        took = int((time.monotonic() - begun) * 1e6)
        print(took, panel.state(), panel.good_lines, panel.bad_lines, values_of(panel, fields),
              panel.pressed(1), panel.released(1), panel.trouble, flush=True)
        time.sleep(FRAME_S)
    panel.close()


if sys.argv[1] == "lines":
    judge_lines(int(sys.argv[2]), sys.argv[3])
else:
    play(int(sys.argv[2]), sys.argv[3], sys.argv[4], [int(sys.argv[6])] * int(sys.argv[5]))
