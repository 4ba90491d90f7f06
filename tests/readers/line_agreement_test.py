# The panel readers of all languages take and refuse the same lines: those of the table of line
# cases that are comma lists of whole numbers, and a hundred thousand seeded good and bad lines. The
# expected verdict is worked out here by other means than theirs (no shared code, no regular
# expression). Argument: the C++ probe.
import concurrent.futures
import os
import random
import sys
import tempfile

from languages import reader_programs, run_probe

HERE = os.path.dirname(os.path.abspath(__file__))
TABLE = os.path.join(HERE, "../../protocol/cases/line_cases.tsv")
SEED, LINES, FIELDS = 20261125, 100000, 5
INT_MIN, INT_MAX = -2147483648, 2147483647
# Where a reader that knows neither ranges nor widths is content with more than the strict codec.
TAKEN_ALL_THE_SAME = ("out-of-range", "leading-zeros")


def run(language, command, batches, folder):
    """What one probe says to batches of (fields, lines): the verdicts and the totals of each."""
    words = ["lines"]
    for number, (fields, lines) in enumerate(batches):
        path = os.path.join(folder, "%s.%d" % (language, number))
        with open(path, "wb") as file:
            file.write(b"".join(line + b"\n" for line in lines))
        words += [str(fields), path]
    said = run_probe(language, command, words)
    for _, lines in batches:
        yield said[:len(lines)], said[len(lines)]
        said = said[len(lines) + 1:]


def verdict(line, fields):
    """What a reader must say, by the wording of docs/readers.md."""
    if len(line) > 255:
        return "bad"
    parts = (line[:-1] if line[-1:] == b"\r" else line).split(b",")
    for part in parts:
        digits = part[1:] if part[:1] == b"-" else part
        if digits == b"" or any(sign not in b"0123456789" for sign in digits):
            return "bad"
        if not INT_MIN <= int(part) <= INT_MAX:
            return "bad"
    return "good " + ",".join(str(int(part)) for part in parts) if len(parts) == fields else "bad"


def totals(verdicts, fields):
    good = [[int(n) for n in v.split()[1].split(",")] for v in verdicts if v != "bad"]
    text = "total %d %d %s" % (len(good), len(verdicts) - len(good), ",".join(map(str, good[-1])))
    for field in range(fields):
        states = [line[field] != 0 for line in good]
        edges = list(zip(states, states[1:]))
        text += " %d/%d" % (edges.count((False, True)), edges.count((True, False)))
    return text


def unescape(text):
    named = {"t": "\t", "n": "\n", "r": "\r", "s": " ", "\\": "\\"}
    out, at = "", 0
    while at < len(text):
        if text[at] != "\\":
            out, at = out + text[at], at + 1
        elif text[at + 1] == "x":
            out, at = out + chr(int(text[at + 2:at + 4], 16)), at + 4
        else:
            out, at = out + named[text[at + 1]], at + 2
    return out.encode("latin-1")


def table_cases():
    """(id, fields, line, expected) of the rows that are comma lists of whole numbers."""
    with open(TABLE, encoding="ascii") as file:
        rows = [row.rstrip("\n").split("\t") for row in file if not row.startswith("#")]
    columns = rows[0]
    for row in (dict(zip(columns, row)) for row in rows[1:]):
        names = row["template"].split(",")
        listed = all(n[:1] == "{" and n[-1:] == "}" and n[1:-1].replace("_", "").isalnum()
                     or n in ("{lamp_a:3}", "{lamp_b:3}") for n in names)
        outcome = row["outcome"].split(" ")
        if not listed or row["check"] != "-" or outcome[0] == "refused":
            continue
        if any("=" in field or "/" in field for field in row["fields"].split(" ")):
            continue  # words or decimals
        if row["framing"] not in ("-", "ends=\\r\\n accepts=\\n"):
            continue
        line = unescape(row["line"])
        taken = (outcome[0] == "ok" or outcome[1] in TAKEN_ALL_THE_SAME
                 or outcome[-1] == "hint=carriage-return")
        expected = verdict(line, len(names)) if taken else "bad"
        if outcome[0] == "ok":
            expected = "good " + ",".join(pair.split("=")[1] for pair in outcome[1:])
        yield row["id"], len(names), line, expected


def seeded_lines():
    chance = random.Random(SEED)
    good = lambda: [str(chance.choice([0, 0, 1, 7, 1023, -1, chance.randint(INT_MIN, INT_MAX)]))
                    for _ in range(FIELDS)]
    spoilers = [
        lambda w: w[:-1], lambda w: w + ["1"], lambda w: w[:2] + [""] + w[3:],
        lambda w: ["+1"] + w[1:], lambda w: w[:3] + [" 4"] + w[4:], lambda w: w[:4] + ["0x1F"],
        lambda w: w[:1] + ["0.5"] + w[2:], lambda w: w[:4] + [str(INT_MAX + chance.randint(1, 99))],
        lambda w: [str(INT_MIN - 1)] + w[1:], lambda w: ["-"] + w[1:], lambda w: ["--1"] + w[1:],
        lambda w: w[:4] + ["1\0"], lambda w: w[:4] + ["1\r\r"], lambda w: ["\xb2"] + w[1:],
        lambda w: ["9" * chance.randint(20, 400)] + w[1:], lambda w: ["1_0"] + w[1:],
        lambda w: ["0" * chance.randint(200, 300)] + w[1:], lambda w: ["1\v"] + w[1:],
        lambda w: [chr(chance.randint(0, 255) % 245 + 11) for _ in range(chance.randint(1, 40))],
    ]
    for _ in range(LINES):
        words = good()
        if chance.random() < 0.4:
            words = chance.choice(spoilers)(words)
        yield ",".join(words).encode("latin-1") + chance.choice([b"", b"", b"\r"])


def complaints_about(language, said, total, batch, wanted):
    fields, lines = batch
    if total != totals(wanted, fields):
        yield "%s: %s; expected %s" % (language, total, totals(wanted, fields))
    wrong = [row for row in zip(lines, said, wanted) if row[1] != row[2]]
    for line, got, want in wrong[:5]:
        yield "%s: %r: said %s, expected %s" % (language, line, got, want)


def compare(cpp_program, folder):
    """Complaints about all the programs."""
    cases, lines = list(table_cases()), list(seeded_lines())
    expected = [verdict(line, FIELDS) for line in lines]
    batches, wanted = [(FIELDS, lines)], [expected]
    for fields in sorted({case[1] for case in cases}):
        some = [case for case in cases if case[1] == fields]
        batches.append((fields, [case[2] for case in some]))
        wanted.append([case[3] for case in some])
    programs = reader_programs(cpp_program, folder)
    failures = []
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        work = lambda item: list(run(*item, batches, folder))
        for language, answers in zip(programs, pool.map(work, programs.items())):
            for (said, total), batch, want in zip(answers, batches, wanted):
                failures += complaints_about(language, said, total, batch, want)
    good = sum(v != "bad" for v in expected)
    print("%d languages, %d cases of the table, %d seeded lines (%d good, %d bad), seed %d"
          % (len(programs), len(cases), LINES, good, LINES - good, SEED))
    if len(cases) < 15 or not 0.3 * LINES < good < 0.8 * LINES:
        failures.append("too few cases to prove anything")
    return failures


with tempfile.TemporaryDirectory() as work_folder:
    complaints = compare(sys.argv[1], work_folder)
print("\n".join(complaints))
sys.exit(1 if complaints else 0)
