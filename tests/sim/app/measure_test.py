"""`understudy measure` from outside. The recordings are made here, of signals whose truth is known,
and every figure is worked out a second time from the same file with plain Python, by other means
where there are some; hostile files get words and status 2."""

import csv
import io
import json
import math
import os
import random
import re
import statistics
import subprocess
import tempfile
import unittest

PROGRAM = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")
TRAM = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios/tram/tram.panel.toml")
MS = 1_000_000
SECOND = 1_000_000_000


def run(*words, input_bytes=None):
    return subprocess.run([PROGRAM, *words], input=input_bytes, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, timeout=120, check=False)


def measured(*words):
    done = run("measure", "--json", *words)
    assert done.returncode == 0, done.stderr.decode()
    return json.loads(done.stdout)["recordings"]


def named(rows, name):
    return next(row for row in rows if row["name"] == name)


class Recording:
    """Events in the order of time behind the header of a real recording of the tram desk."""

    header = None

    def __init__(self, folder, name="made.jsonl"):
        self.path = os.path.join(folder, name)
        self.events = []
        if Recording.header is None:
            first = os.path.join(folder, "header.jsonl")
            done = run("emit", TRAM, "--for", "10ms", "--record", first)
            assert done.returncode == 0, done.stderr.decode()
            with open(first, encoding="utf-8") as file:
                Recording.header = file.readline()

    def line(self, ns, text):
        self.events.append((ns, {"from": "panel", "text": text}))

    def game(self, ns, text):
        self.events.append((ns, {"from": "game", "text": text}))

    def add(self, ns, **event):
        self.events.append((ns, event))

    def write(self, ended=True):
        with open(self.path, "w", encoding="utf-8", newline="\n") as file:
            file.write(self.header)
            for ns, event in sorted(self.events, key=lambda one: one[0]):
                whole = {"ns": ns, "seat": "tram", **event}
                file.write(json.dumps(whole, separators=(",", ":")) + "\n")
            if ended:
                last = max((ns for ns, _ in self.events), default=0)
                file.write('{"ns":%d,"from":"mark","ended":"complete"}\n' % last)
        return self.path


class MeasureTest(unittest.TestCase):
    def setUp(self):
        holder = tempfile.TemporaryDirectory()
        self.addCleanup(holder.cleanup)
        self.folder = holder.name
        self.recording = Recording(self.folder)

    def seat(self, *words):
        return measured(self.recording.write(), *words)[0]["seats"][0]

    def test_half_an_lsb_of_gaussian_noise_on_ten_bits_leaves_nine(self):
        # IEEE 1241: N - log2(total RMS noise / (Q / sqrt 12)) = 10 - 0.5 log2(1 + 12 * 0.25) = 9.
        chance = random.Random(1241)
        numbers = [round(chance.gauss(511.4, 0.5)) for _ in range(30_000)]
        for i, number in enumerate(numbers):
            self.recording.line(i * 10 * MS, f"{number},300,0,0,0\n")
        power = named(self.seat()["controls"], "power")
        self.assertAlmostEqual(power["rest"]["effective_bits"], 9.0, delta=0.02)
        # The plain standard deviation of all numbers, which were all at rest.
        self.assertAlmostEqual(power["rest"]["rms_lsb"], statistics.pstdev(numbers), delta=0.005)
        self.assertEqual(power["rest"]["peak_to_peak_lsb"], max(numbers) - min(numbers))
        self.assertAlmostEqual(power["rest"]["drift_lsb_a_minute"], 0, delta=0.02)
        self.assertEqual((power["least"], power["most"]), (min(numbers), max(numbers)))
        self.assertEqual(power["verdict"], "never used")

    def test_drift_is_the_slope_that_was_made(self):
        chance = random.Random(7)
        points = [(i / 6000, round(chance.gauss(400 + 4 * i / 6000, 0.6))) for i in range(60_000)]
        for i, (_, number) in enumerate(points):
            self.recording.line(i * 10 * MS, f"{number},300,0,0,0\n")
        power = named(self.seat()["controls"], "power")
        # Least squares over every single number, against 4 LSB a minute made.
        slope = statistics.linear_regression(*zip(*points)).slope
        self.assertAlmostEqual(power["rest"]["drift_lsb_a_minute"], slope, delta=0.05)

    def test_gaps_rates_and_the_wire_are_those_scheduled(self):
        times = []
        at = 0
        for i in range(3_000):
            at += 400 * MS if i in (700, 1_900) else 250 * MS if i == 2_500 else 20 * MS
            times.append(at)
            self.recording.line(at, f"{500 + i % 2},300,0,0,0\n")
        game = self.seat("--gap", "300ms")["to_game"]
        gaps = [b - a for a, b in zip(times, times[1:])]
        self.assertEqual(game["lines"], 3_000)
        self.assertEqual(game["gap_ns_longest"], 400 * MS)
        self.assertEqual(game["gap_longest_at_ns"], times[699])
        self.assertEqual(game["gaps_over_bound"], 2)
        self.assertEqual(game["gap_ns_median"], statistics.median_low(gaps))
        self.assertEqual(game["gap_ns_99"], sorted(gaps)[math.ceil(0.99 * len(gaps)) - 1])
        in_second = [0] * ((times[-1] - times[0]) // SECOND)
        for t in times:
            place = (t - times[0]) // SECOND
            if place < len(in_second):
                in_second[place] += 1
        self.assertEqual(game["lines_a_second_least"], min(in_second))
        self.assertEqual(game["lines_a_second_most"], max(in_second))
        self.assertEqual(game["lines_a_second_median"], statistics.median_low(in_second))
        # 8N1 at 115200 baud: ten bits for each of the 14 bytes of a line.
        share = 3_000 * 14 * 10 / 115_200 / ((times[-1] - times[0]) / SECOND)
        self.assertAlmostEqual(game["wire_share"], share, delta=1e-9)

    def test_presses_and_bounce_are_those_that_were_made(self):
        chance = random.Random(3)
        down = set()   # milliseconds at which the bell's contact is closed
        lengths, bounces = [], []
        for press in range(40):
            begins = 1_000 + press * 500
            length = chance.randrange(60, 200)
            chatter = chance.randrange(2, 7)
            down.update(range(begins, begins + length))
            down.discard(begins + chatter - 1)   # open for 1 ms, so chatter ends `chatter` ms in
            lengths.append(length)
            bounces.append(chatter)
        for ms in range(22_000):
            self.recording.line(ms * MS, f"500,300,{int(ms in down)},0,0\n")
        bell = named(self.seat()["controls"], "bell")["contact"]
        self.assertEqual(bell["presses"], 40)
        self.assertEqual(bell["press_ns_median"], statistics.median_low(lengths) * MS)
        self.assertEqual(bell["press_ns_least"], min(lengths) * MS)
        self.assertEqual(bell["press_ns_most"], max(lengths) * MS)
        self.assertEqual(bell["bounces"], 40)
        self.assertEqual(bell["bounce_ns_median"], statistics.median_low(bounces) * MS)
        self.assertEqual(bell["bounce_ns_most"], max(bounces) * MS)

    def test_a_worn_track_jumps_where_it_is_worn(self):
        for i in range(4_000):
            number = i % 1_000
            worn = number in (400, 401)
            self.recording.line(i * 10 * MS, f"{1_023 if worn else number},300,0,0,0\n")
        power = named(self.seat()["controls"], "power")
        self.assertEqual(power["jumps"], 4)
        self.assertEqual([(j["from"], j["to"]) for j in power["first_jumps"]], [(399, 1_023)] * 4)
        self.assertEqual(power["first_jumps"][1]["at_ns"], 1_400 * 10 * MS)
        self.assertEqual(power["first_jumps"][1]["length_ns"], 20 * MS)

    def test_what_hands_move_and_does_not_follow_is_stuck(self):
        for i in range(3_000):
            self.recording.line(i * 10 * MS, "500,300,0,0,1\n")
        for i in range(1, 6):
            for name in ("power", "sander"):
                self.recording.add(i * 5 * SECOND, **{
                    "from": "hand", "control": name, "to_ppm": 1_000_000 * (i % 2),
                    "duration_ns": 0, "curve": "at once"})
        controls = self.seat()["controls"]
        self.assertEqual(named(controls, "power")["verdict"], "stuck")
        self.assertEqual(named(controls, "power")["stuck_since_ns"], 5 * SECOND)
        self.assertEqual(named(controls, "power")["stuck_at"], 500)
        self.assertEqual(named(controls, "sander")["verdict"], "stuck")
        self.assertEqual(named(controls, "bell")["verdict"], "never used")

    def test_answers_have_the_latency_that_was_made_and_pairs_are_found(self):
        chance = random.Random(5)
        latencies = []
        dark = "0,0,0,0,0,0\n"
        self.recording.game(0, dark)
        presses = []
        for press in range(60):
            at = SECOND + press * 2 * SECOND
            presses.append(at)
            late = press in (10, 20)
            latency = (300 if late else chance.randrange(20, 90)) * MS
            missed = press == 30
            if not missed:
                latencies.append(latency)
                self.recording.game(at + latency, "0,0,0,255,0,0\n")
                self.recording.game(at + 900 * MS, dark)
        held = {at + ms * MS for at in presses for ms in range(0, 120, 10)}
        for i in range(12_200):
            at = i * 10 * MS
            self.recording.line(at, f"500,300,0,{int(at in held)},0\n")
        seat = self.seat()
        answer = named(seat["answers"], "doors press: door_lamp lit")
        self.assertEqual(answer["presses"], 60)
        self.assertEqual(answer["latency"]["count"], 59)
        self.assertEqual(answer["latency"]["ns_median"], statistics.median_low(latencies))
        self.assertEqual(answer["latency"]["ns_95"],
                         sorted(latencies)[math.ceil(0.95 * 59) - 1])
        self.assertEqual(answer["latency"]["ns_worst"], 300 * MS)
        self.assertEqual((answer["late"], answer["missed"]), (2, 1))
        pair = named(seat["pairs"], "doors press: door_lamp lit")
        self.assertTrue(pair["written"])
        self.assertEqual(seat["proposed"], "")

    def test_a_pair_that_nobody_wrote_is_proposed_as_toml_that_check_takes(self):
        self.recording.game(0, "0,0,0,0,0,0\n")
        presses = [SECOND + i * 3 * SECOND for i in range(12)]
        for at in presses:
            self.recording.game(at + 45 * MS, "0,255,0,0,0,0\n")
            self.recording.game(at + 700 * MS, "0,0,0,0,0,0\n")
        held = {at + ms * MS for at in presses for ms in range(0, 2_000, 10)}
        for i in range(3_700):
            self.recording.line(i * 10 * MS, f"500,300,{int(i * 10 * MS in held)},0,0\n")
        proposed = self.seat()["proposed"]
        self.assertEqual(proposed, '[[answer]]\nwhen = "bell press"\nexpect = "signal_amber lit"\n'
                                   'within = "60 ms"\n')
        with open(TRAM, encoding="utf-8") as file:
            panel = file.read()
        path = os.path.join(self.folder, "pasted.panel.toml")
        with open(path, "w", encoding="utf-8") as file:
            file.write(panel + "\n" + proposed)
        self.assertEqual(run("check", path).returncode, 0)

    def test_chance_is_no_pair(self):
        chance = random.Random(9)
        self.recording.game(0, "0,0,0,0,0,0\n")
        for i in range(600):   # a lamp that changes five times a second whatever anybody does
            self.recording.game(i * 200 * MS + chance.randrange(100) * MS,
                                f"0,{255 * (i % 2)},0,0,0,0\n")
        held = set()
        for press in range(30):
            at = chance.randrange(100, 11_000)
            held.update(range(at, at + 12))
        for i in range(12_000):
            self.recording.line(i * 10 * MS, f"500,300,{int(i in held)},0,0\n")
        self.assertEqual(self.seat()["pairs"], [])

    def test_more_than_three_cycles_in_a_second_are_flashes(self):
        # WCAG 2.3.1: a flash is a pair of opposing changes; three in any second are allowed.
        def cycles(period_ms, lamp, offset):
            changes = []
            for i in range(12):
                on = offset + i * period_ms * MS
                changes += [(on, True), (on + period_ms * MS // 2, False)]
            for t, lit in changes:
                self.recording.game(t, ",".join("255" if lit and n == lamp else "0"
                                                for n in range(6)) + "\n")
            times = [t for t, _ in changes]
            return max(sum(t - SECOND < other <= t for other in times) // 2 for t in times)
        slow = cycles(400, 0, SECOND)            # 2.5 a second
        fast = cycles(200, 1, 20 * SECOND)       # 5 a second
        lamps = self.seat()["lamps"]
        self.assertEqual(named(lamps, "signal_red")["flashes_most"], slow)
        self.assertFalse(named(lamps, "signal_red")["caution"])
        self.assertEqual(named(lamps, "signal_amber")["flashes_most"], fast)
        self.assertTrue(named(lamps, "signal_amber")["caution"])
        self.assertIn(b"caution: signal_amber flashes", run("measure", self.recording.path).stdout)

    def test_figures_of_a_real_run_are_those_that_plain_python_finds(self):
        path = os.path.join(self.folder, "run.jsonl")
        done = run("emit", TRAM, "--for", "60s", "--play", "wander", "--seed", "4",
                   "--record", path)
        self.assertEqual(done.returncode, 0, done.stderr)
        seat = measured(path)[0]["seats"][0]
        lines, numbers, redundant, before, partial, count = [], [], 0, None, "", 0
        with open(path, encoding="utf-8") as file:
            next(file)
            for event in map(json.loads, file):
                if event["from"] != "panel" or "text" not in event:
                    continue
                partial += event["text"]
                count += len(event["text"].encode())
                *whole, partial = partial.split("\n")
                for line in whole:
                    lines.append(event["ns"])
                    if line == "tram-desk 1":
                        continue
                    values = [int(word) for word in line.split(",")]
                    redundant += values == before
                    before = values
                    numbers.append(values)
        game = seat["to_game"]
        self.assertEqual((game["lines"], game["bytes"]), (len(lines), count))
        self.assertEqual((game["read"], game["said"]), (len(numbers), 1))
        self.assertEqual(game["redundant"], redundant)
        self.assertEqual(game["gap_ns_longest"], max(b - a for a, b in zip(lines, lines[1:])))
        for place, control in enumerate(seat["controls"]):
            column = [values[place] for values in numbers]
            self.assertEqual((control["least"], control["most"]), (min(column), max(column)))
            changes = sum(a != b for a, b in zip(column, column[1:]))
            self.assertEqual(control["changes"], changes)

    def test_csv_has_a_row_for_each_figure_of_the_json(self):
        for i in range(200):
            self.recording.line(i * 10 * MS, f"{500 + i % 3},300,0,0,0\n")
        path = self.recording.write()
        rows = list(csv.reader(io.StringIO(run("measure", "--csv", path).stdout.decode())))
        self.assertEqual(rows[0], ["recording", "seat", "about", "name", "figure", "value"])
        found = {tuple(row[1:5]): row[5] for row in rows[1:]}
        self.assertEqual(found[("tram", "to_game", "", "lines")], "200")
        self.assertEqual(found[("tram", "controls", "power", "most")], "502")

    def test_the_page_loads_nothing_and_spares_what_is_there(self):
        for i in range(2_000):
            self.recording.line(i * 10 * MS, f"{500 + i % 3},300,0,0,0\n")
        path, page = self.recording.write(), os.path.join(self.folder, "page.html")
        self.assertEqual(run("measure", path, "--html", page).returncode, 0)
        with open(page, encoding="utf-8") as file:
            text = file.read()
        names = text.replace("http://www.w3.org/2000/svg", "")   # the name of SVG, never loaded
        self.assertNotRegex(names, r"https?:|//\w|\bsrc=|\bhref=|url\(|@import|\bfetch\(")
        data = re.search(r'<script type="application/json" class="data">(.*?)</script>', text, re.S)
        charts = {chart["id"]: chart for chart in json.loads(data.group(1))["charts"]}
        numbers = [n for value in charts["c0"]["values"] if value is not None
                   for n in (value if isinstance(value, list) else [value])]
        self.assertEqual((min(numbers), max(numbers)), (500, 502))
        again = run("measure", path, "--html", page)
        self.assertEqual(again.returncode, 2)
        self.assertIn(b"--force overwrites it", again.stderr)
        self.assertEqual(run("measure", path, "--html", page, "--force").returncode, 0)

    def test_without_a_panel_raw_lines_are_measured_and_a_panel_can_be_lent(self):
        for i in range(500):
            self.recording.line(i * 10 * MS, f"{500 + i % 2},300,0,0,0\n")
        path = self.recording.write()
        with open(path, encoding="utf-8") as file:
            header, *events = file.readlines()
        header = json.loads(header)
        header["seats"][0].update(panel="", resolved="")
        with open(path, "w", encoding="utf-8") as file:
            file.write(json.dumps(header) + "\n" + "".join(events))
        seat = measured(path)[0]["seats"][0]
        self.assertIsNone(seat["panel"])
        self.assertEqual((seat["to_game"]["lines"], seat["to_game"]["read"]), (500, None))
        self.assertEqual(seat["to_game"]["lines_a_second_median"], 100)
        lent = measured(path, "--panel", TRAM)[0]["seats"][0]
        self.assertEqual(lent["to_game"]["read"], 500)

    def test_several_recordings_stand_beside_each_other(self):
        for i in range(300):
            self.recording.line(i * 10 * MS, f"{500 + i % 2},300,0,0,0\n")
        one = self.recording.write()
        other = os.path.join(self.folder, "other.jsonl")
        with open(one, "rb") as a, open(other, "wb") as b:
            b.write(a.read())
        text = run("measure", one, other).stdout.decode()
        self.assertRegex(text, r"(?m)^ +tram +made +other$")
        self.assertRegex(text, r"(?m)^ +lines +300 +300$")
        self.assertTrue(all(len(line) <= 100 for line in text.splitlines()), text)

    def test_a_recording_that_was_cut_off_is_measured_as_far_as_it_goes(self):
        for i in range(300):
            self.recording.line(i * 10 * MS, "500,300,0,0,0\n")
        path = self.recording.write(ended=False)
        with open(path, "rb+") as file:
            file.truncate(os.path.getsize(path) - 20)
        done = run("measure", path)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn(b"it was cut off in the middle of a line", done.stdout)
        self.assertEqual(measured(path)[0]["seats"][0]["to_game"]["lines"], 299)

    def test_hostile_files_get_words_and_status_2(self):
        self.recording.line(0, "500,300,0,0,0\n")
        with open(self.recording.write(), "rb") as file:
            good = file.read()
        event = b'{"ns":%d,"seat":"tram","from":"panel","text":"500,300,0,0,0\\n"}\n'
        header = good[:good.index(b"\n") + 1]
        cases = {
            b"": b"the file is empty",
            b"\x00" * 5_000: b"",
            os.urandom(50_000): b"",
            header[:300]: b"",
            header + b"x" * 10_000_000 + b"\n" + event % 5: b"line 2: the line is longer",
            header + event % 9 + event % 3: b"line 3: it goes back in time",
            header + event % 9_223_372_036_854_775_807: b"beyond a hundred years",
            header + b'{"ns":-4,"seat":"tram","from":"panel","text":"a"}\n': b"line 2",
            header + b'{"ns":1,"seat":"tram","from":"hand","control":"powr","to_ppm":1,'
                     b'"duration_ns":0,"curve":"at once"}\n': b"the panel has no powr",
            header.replace(b'"format":"1.', b'"format":"9.'): b"format",
            b"\x28\xb5\x2f\xfd" + os.urandom(2_000): b"",
        }
        path = os.path.join(self.folder, "hostile.jsonl")
        for content, words in cases.items():
            with open(path, "wb") as file:
                file.write(content)
            done = run("measure", path)
            self.assertEqual(done.returncode, 2, (content[:60], done.stderr[:300]))
            self.assertIn(words, done.stderr)
            self.assertIn(b"understudy measure: ", done.stderr)


if __name__ == "__main__":
    unittest.main()
