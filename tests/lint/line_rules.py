# Rules that look at one file, line by line: how it opens, its length and signs, and words that are
# banned in a place, each with the reason that is told.
import re

FILE_LINES_MAX = 600
COLUMNS_MAX = 100

# The deterministic core: no OS, thread, file or clock here.
CORE = ["sim/" + f for f in ("base", "model", "panel", "faults", "controls", "board", "manners",
                             "wire", "device", "observe", "session")]
PRODUCT = ["protocol", "sim", "scenarios"]
# A reader's silence limits are real time, so its probes are too.
REAL_TIME = ["tests/realtime", "tests/clients", "tests/readers", "tests/window"]
# Scripts that run whole programs, which live in real time.
SCRIPTS_IN_REAL_TIME = REAL_TIME + ["tests/docs", "tests/bench", "tests/sim/app", "tests/windows",
                                    "tests/dist", "tests/panels",
                                    "tests/game/tram_game_program_test.py"]


class Ban:
    """`pattern` may not stand in code under `folders`, save in files under `allowed`."""

    def __init__(self, pattern, why, folders=(), allowed=(), braced_only=True, raw=False):
        self.pattern = re.compile(pattern)
        self.why = why
        self.folders = folders
        self.allowed = allowed
        self.braced_only = braced_only
        self.raw = raw  # look at comments and strings too

    def applies(self, source):
        if self.braced_only and not source.is_braced:
            return False
        if self.folders and not source.is_under(*self.folders):
            return False
        return source.is_code and not source.is_under(*self.allowed)


BANS = [
    Ban(r"\b(steady_clock|system_clock|high_resolution_clock|clock_gettime|gettimeofday|"
        r"clock_nanosleep)\b|\bstd::time\b|\btime\(\s*(NULL|nullptr|0)\s*\)",
        "a real clock; take an Instant as an argument (only sim/link/pacer.cpp asks the machine)",
        # The game is a program of its own that lives in real time, and so do the readers' silence
        # limits; measuring how long something took is what benches do; a recording is dated.
        allowed=["sim/link/pacer.cpp", "sim/app/calendar.cpp", "scenarios/tram/game",
                 "protocol/readers", "tests/bench"] + REAL_TIME),
    Ban(r"\b(sleep_for|sleep_until|usleep|nanosleep)\b|(?<![\w.:>])sleep\(",
        "nothing waits by sleeping; let the pacer or poll() wait",
        # The port library blocks in a game's own thread, as the call that it stands in for does.
        allowed=["sim/link/pacer.cpp", "sim/link/port_library", "scenarios/tram/game",
                 "protocol/readers"] + REAL_TIME),
    Ban(r"\btime\.(sleep|time|monotonic|perf_counter)(_ns)?\(|^\s*sleep\s+\S",
        "this script belongs to no place where tests live in real time", folders=["tests"],
        braced_only=False, allowed=SCRIPTS_IN_REAL_TIME),
    Ban(r"\bstd::(\w+_distribution|random_device)\b|\bmt19937(_64)?\b|(?<![\w.:>])s?rand\(|"
        r"\bstd::rand\b",
        "chance that differs by library or run; draw from a Stream (sim/base/random.h)"),
    Ban(r"\bunordered_(multi)?(map|set)\b",
        "its order shows and differs by library; use a vector or std::map", folders=CORE),
    Ban(r"#\s*include\s*<(thread|mutex|shared_mutex|condition_variable|atomic|future|chrono|ctime|"
        r"fstream|filesystem|iostream|random|locale|unistd\.h|fcntl\.h|poll\.h|signal\.h|time\.h|"
        r"sys/[^>]*)>",
        "the core has no OS, thread, file or clock; what needs one stands above sim/session",
        folders=CORE, allowed=["sim/base/open_file_linux.cpp"]),
    Ban(r"\bthrow\b|\babort\(|\bprintf\(|\bfputs\(|\bfprintf\(|\bstd::(cout|cerr)\b|"
        r"#\s*include\s*<(iostream|fstream|chrono|thread)>",
        "protocol/ neither throws, prints, aborts nor reads a clock", folders=["protocol"],
        allowed=["protocol/readers"]),
    Ban(r"#\s*include\s*\"sim/", "protocol/ depends on the standard library alone",
        folders=["protocol"]),
    Ban(r"\b(atof|atoi|strtod|strtof|stod|stof|stoi|setlocale|localeconv|sscanf)\b",
        "follows the locale or hides mistakes; use std::from_chars",
        folders=["protocol"] + CORE),
    Ban(r"#\s*include\s*\"[^\"]*\.\./", "includes are written from the top, without .."),
    Ban(r"#\s*include\s*\"[^/\"]*\"",
        "includes are written from the top: \"sim/wire/...\", \"tests/sim/wire/...\"",
        folders=["protocol", "sim", "scenarios", "tests"],
        # Plain files that are copied into games one by one.
        allowed=["protocol/readers", "protocol/c_interface.h"]),
    Ban(r"\busing\s+namespace\s+std\b", "names of std are written with std::"),
    Ban(r"(?<![\w.:>])assert\(|#\s*include\s*<cassert>",
        "gone in a release build; CHECK stays (sim/base/check.h)"),
    Ban(r"(?i)(?<![a-z0-9])[tr]x(?![a-z0-9])|\b[TR]x[A-Z]",
        "tx and rx swap ends; say to_game or to_panel", folders=PRODUCT + ["tests"],
        # Pin names of the chips' own data sheets.
        allowed=["sim/board"]),
    Ban(r"\b(TODO|FIXME|XXX)\b", "finish it, or say it in docs/LIMITATIONS.md", raw=True,
        braced_only=False, allowed=["tests/lint"]),
    Ban(r"(?<![\w./{}*$\"'])/(work|farm|root|home/\w+)\b|(?<![\w./{}*$])[\"']/(work|root|home)\b|"
        r"(?<![\w./{}*$])[\"']?/tmp/",
        "a path of one machine", folders=PRODUCT + [".ci"], raw=True, braced_only=False,
        # Where a user's private folder goes when the system names none.
        allowed=["sim/link", "protocol/readers"]),
]


def opening_complaint(source):
    """Every code file opens by saying what it is."""
    lines = source.text.split("\n")
    first = 1 if lines and lines[0].startswith("#!") else 0
    if first < len(lines) and lines[first].startswith("# shellcheck"):
        first += 1
    opening = lines[first] if first < len(lines) else ""
    mark = "//" if source.is_braced else "--" if source.suffix == ".lua" else "#"
    if source.is_braced and opening.startswith("/*"):
        mark = "/*"  # a header that C programs include too
    if source.suffix == ".py" and opening.startswith('"""'):
        mark = '"""'
    said = opening[len(mark):].strip()
    if opening.startswith(mark) and len(said) >= 10 and " " in said:
        return None
    return (first + 1, f"opens without a comment that says what it is ({mark} ...)")


def raw_string_lines(source):
    """The lines that a raw string reaches over: quoted text keeps its own width."""
    lines = set()
    if source.suffix in (".cpp", ".h"):
        for match in re.finditer(r'R"([^(\s]{0,16})\(.*?\)\1"', source.text, re.S):
            first = source.text.count("\n", 0, match.start()) + 1
            lines.update(range(first, first + match.group(0).count("\n") + 1))
    return lines


def form_complaints(source):
    """Length, width, signs, the last line, #pragma once."""
    lines = source.text.split("\n")
    quoted = raw_string_lines(source)
    if len(lines) - 1 > FILE_LINES_MAX:
        yield (len(lines) - 1, f"{len(lines) - 1} lines, limit {FILE_LINES_MAX}: split it")
    for number, line in enumerate(lines, 1):
        if len(line) > COLUMNS_MAX and number not in quoted:
            yield (number, f"{len(line)} columns, limit {COLUMNS_MAX}")
        if not line.isascii():
            yield (number, "a sign that is not ASCII; write it as an escape")
        if "\t" in line:
            yield (number, "a tab; indent with spaces")
        if line != line.rstrip():
            yield (number, "blanks at the end of the line")
    if source.text and not source.text.endswith("\n"):
        yield (len(lines), "the last line lacks its line feed")
    if source.suffix == ".h" and not re.search(r"(?m)^#pragma once$", source.text):
        if not source.is_under("protocol/readers") and "#ifndef" not in source.text:
            yield (1, "a header without #pragma once")


def complaints_of(source):
    """All (line, text) about one file."""
    if not source.is_code:
        return
    opening = opening_complaint(source)
    if opening:
        yield opening
    yield from form_complaints(source)
    bare = source.bare
    for ban in BANS:
        if not ban.applies(source):
            continue
        text = source.text if ban.raw else bare
        for match in ban.pattern.finditer(text):
            line = text.count("\n", 0, match.start()) + 1
            yield (line, f"'{match.group(0).strip()}': {ban.why}")
