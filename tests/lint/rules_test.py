# Feeds the rules samples that break them, so that a rule that went blind is noticed, and sound
# samples that come near, so that a rule that shouts too much is too.
import unittest

import lint_test
import sources

TOP = """# The build.
set(UNDERSTUDY_LAYERS base model controls board wire device observe session
    link app)
"""
OPENING = "// A sample that says what it is.\n"
LONG_BODY = "  step();\n" * 70


def about(path, text, **more):
    """The complaints about one file in an otherwise sound small tree."""
    tree = {"CMakeLists.txt": TOP, "sim/wire/CMakeLists.txt": "# The wire, built.\n# a.cpp\n"}
    tree.update(more.get("tree", {}))
    tree[path] = text
    folder = path.rsplit("/", 1)[0] + "/CMakeLists.txt"
    if path.endswith((".cpp", ".c")) and more.get("built", True):
        tree.setdefault(folder, "# Names what is built.\n")
        tree[folder] += "# \nset(x " + path.rsplit("/", 1)[1] + ")\n"
        tree[folder] = tree[folder].replace("# \n", "")
    found = lint_test.complaints_about([sources.Source(p, t) for p, t in tree.items()])
    return [c for c in found if c.startswith(path + ":")]


# (path, text, what the complaint must say)
BROKEN = [
    ("tests/lint/a.py", '"""."""\nx = 1\n', "opens without a comment"),
    ("sim/wire/a.cpp", "int x;\n", "opens without a comment"),
    ("sim/wire/a.cpp", "//\n\nint x;\n", "opens without a comment"),
    ("sim/wire/CMakeLists.txt", "set(x a.cpp)\n", "opens without a comment"),
    ("tests/run", "#!/bin/sh\nset -u\n", "opens without a comment"),
    ("sim/wire/a.cpp", OPENING + "int x;  // " + "y" * 100 + "\n", "columns, limit 100"),
    ("sim/wire/a.cpp", OPENING + "int x; // caf\u00e9\n", "not ASCII"),
    ("sim/wire/a.cpp", OPENING + "\tint x;\n", "a tab"),
    ("sim/wire/a.cpp", OPENING + "int x; \n", "blanks at the end"),
    ("sim/wire/a.cpp", OPENING + "int x;", "lacks its line feed"),
    ("sim/wire/a.cpp", OPENING + "int x;\n" * 600, "601 lines, limit 600"),
    ("sim/wire/a.h", OPENING + "int x;\n", "#pragma once"),
    ("sim/wire/a.cpp", OPENING + "auto t = std::chrono::steady_clock::now();\n", "a real clock"),
    ("sim/app/a.cpp", OPENING + "clock_gettime(CLOCK_REALTIME, &t);\n", "a real clock"),
    ("sim/link/pty.cpp", OPENING + "std::this_thread::sleep_for(x);\n", "nothing waits"),
    ("tests/sim/wire/a_test.cpp", OPENING + "usleep(5);\n", "nothing waits"),
    ("tests/sim/app/a_test.cpp", OPENING + "usleep(5);\n", "nothing waits"),
    ("tests/protocol/a_test.py", '"""Looks at this."""\nimport time\ntime.sle' 'ep(1)\n',
     "in real time"),
    ("tests/setup/a_test.sh", "#!/bin/sh\n# Waits for a while.\nsleep 1\n", "in real time"),
    ("sim/app/a.cpp", OPENING + "std::uniform_int_distribution<int> d;\n", "chance that differs"),
    ("sim/app/a.cpp", OPENING + "int x = rand();\n", "chance that differs"),
    ("sim/app/a.cpp", OPENING + "std::random_device d;\n", "chance that differs"),
    ("sim/wire/a.h", OPENING + "#pragma once\nstd::unordered_map<int, int> m;\n", "its order"),
    ("sim/wire/a.cpp", OPENING + "#include <thread>\n", "the core has no OS"),
    ("sim/wire/a.cpp", OPENING + "#include <sys/stat.h>\n", "the core has no OS"),
    ("protocol/a.cpp", OPENING + "void f() { throw 1; }\n", "neither throws"),
    ("protocol/a.cpp", OPENING + "#include \"sim/base/time.h\"\n", "standard library alone"),
    ("protocol/a.cpp", OPENING + "double d = strtod(s, nullptr);\n", "std::from_chars"),
    ("sim/wire/a.cpp", OPENING + "#include \"sim/../sim/base/time.h\"\n", "without .."),
    ("sim/wire/a.cpp", OPENING + "#include \"receiver.h\"\n", "written from the top"),
    ("sim/wire/a.cpp", OPENING + "using namespace std;\n", "with std::"),
    ("sim/wire/a.cpp", OPENING + "void f() { assert(x > 1); }\n", "CHECK stays"),
    ("sim/wire/a.cpp", OPENING + "int rx_bytes = 0;\n", "swap ends"),
    ("sim/wire/a.cpp", OPENING + "int bytes_tx = 0;\n", "swap ends"),
    ("sim/wire/a.cpp", OPENING + "struct TxBuffer {};\n", "swap ends"),
    ("sim/wire/a.cpp", OPENING + "// TO" "DO: later\n", "finish it"),
    ("sim/wire/a.cpp", OPENING + 'const char* p = "/wo' 'rk/main/x";\n', "one machine"),
    ("sim/start", "#!/bin/sh\n# Starts all that there is.\ncd /ro" "ot/x\n", "one machine"),
    ("sim/wire/a.cpp", OPENING + "void f() {\n" + LONG_BODY + "}\n", "f is 72 lines, limit 70"),
    ("sim/wire/a.cpp", OPENING + "A::A()\n    : b_{1}, c_{2} {\n" + LONG_BODY + "}\n", "limit 70"),
    ("sim/wire/a.cpp", OPENING + "template <class T>\nT f(T t) {\n" + LONG_BODY + "}\n",
     "limit 70"),
    ("sim/wire/a.cpp", OPENING + "namespace n {\nstruct S {\n  int f() const {\n" + LONG_BODY
     + "  }\n};\n}\n", "f is 72 lines"),
    ("sim/wire/a.cpp", OPENING + "TEST(A, B) {\n" + LONG_BODY + "}\n", "limit 70"),
    ("tests/lint/a.py", "# Python that is long.\ndef f():\n" + "    g()\n" * 70, "f is 71 lines"),
    ("sim/wire/a.cpp", OPENING + '#include "sim/session/session.h"\n', "stands above"),
    ("sim/wire/a.cpp", OPENING + '#include "sim/board/pins.h"\n', "stages never see each other"),
    ("sim/observe/a.cpp", OPENING + '#include "sim/device/device.h"\n', "hold on a tap"),
    ("sim/base/CMakeLists.txt", "# The base of all.\nunderstudy_library(base SOURCES b.cpp\n"
     "  DEPENDS model)\n", "stands above"),
    ("sim/wire/CMakeLists.txt", "# The wire here.\nunderstudy_library(wire DEPENDS cable)\n",
     "is no layer"),
    ("protocol/CMakeLists.txt", "# What goes over the line.\n"
     "understudy_library(protocol DEPENDS base)\n", "stands above"),
    ("docs/a.md", "see [that](b.md)\n", "links to b.md"),
    ("notes.txt", "words\n", "the top holds"),
]

# (path, text): nothing to complain about
SOUND = [
    ("sim/wire/a.cpp", OPENING + '#include "sim/wire/random_device.h"\n'),
    ("sim/wire/a.cpp", OPENING + 'const char* s = R"(\n' + "x" * 120 + '\n)";\n'),
    ("sim/wire/a.cpp", OPENING + "// steady_clock, rand() and tx may be spoken of, and \"/tmp\".\n"
     'const char* s = "rand() { { {";\nconst char c = \'{\';\n'),
    ("sim/wire/a.cpp", OPENING + "void f() {\n" + "  step();\n" * 68 + "}\n"),
    ("sim/wire/a.cpp", OPENING + "// lint: table\nRow row(int n) {\n" + LONG_BODY + "}\n"),
    ("sim/wire/a.cpp", OPENING + "constexpr Row kRows[] = {\n" + "    {1, 2},\n" * 90 + "};\n"),
    ("sim/wire/a.cpp", OPENING + "namespace n {\nclass C : public B {\n" + "  int x;\n" * 90
     + "};\n}\n"),
    ("sim/wire/a.cpp", OPENING + "const int n = 1'000'000;\nvoid f() { g('x'); }\n"),
    ("sim/wire/a.cpp", OPENING + '#include "sim/base/time.h"\nint context = 0; int prefix = 1;\n'),
    ("sim/link/pacer.cpp", OPENING + "auto t = clock_gettime(CLOCK_MONOTONIC, &now);\n"),
    ("tests/realtime/a_test.cpp", OPENING + "std::this_thread::sleep_for(x);\n"),
    ("tests/sim/app/a_test.py", '"""Runs serve."""\nimport time\ntime.sle' 'ep(1)\n'),
    ("tests/lint/a.py", '"""Looks at this and that."""\nx = 1\n'),
    ("tests/run", "#!/bin/sh\n# Checks everything that there is.\nset -u\n"),
    ("protocol/a.h", "/* A header for C programs too. */\n#pragma once\nint x;\n"),
    ("sim/device/a.cpp", OPENING + '#include "sim/wire/receiver.h"\n#include "sim/board/adc.h"\n'),
    ("docs/a.md", "see [the build](../CMakeLists.txt) and [elsewhere](https://example.org)\n"),
]


class Rules(unittest.TestCase):
    def test_each_broken_sample_is_complained_of(self):
        for path, text, expected in BROKEN:
            with self.subTest(path=path, expected=expected, text=text[-60:]):
                found = about(path, text)
                self.assertTrue(any(expected in c for c in found), found)

    def test_no_sound_sample_is_complained_of(self):
        for path, text in SOUND:
            with self.subTest(path=path, text=text[-60:]):
                self.assertEqual(about(path, text), [])

    def test_a_source_that_nothing_builds_is_complained_of(self):
        found = about("sim/wire/b.cpp", OPENING, built=False)
        self.assertEqual(found, ["sim/wire/b.cpp:1: no CMakeLists.txt builds it"])

    def test_a_name_within_a_longer_name_builds_nothing(self):
        tree = {"sim/wire/CMakeLists.txt": "# The wire, built.\nset(x sub_b.cpp)\n"}
        found = about("sim/wire/b.cpp", OPENING, built=False, tree=tree)
        self.assertEqual(found, ["sim/wire/b.cpp:1: no CMakeLists.txt builds it"])

    def test_a_corpus_without_a_target_is_complained_of(self):
        tree = {"tests/fuzz/CMakeLists.txt": "# Fuzz targets.\nunderstudy_fuzz(NAME codec\n  x)\n"}
        self.assertEqual(about("tests/fuzz/corpus/codec/a", "x", tree=tree), [])
        found = about("tests/fuzz/corpus/codecs/a", "x", tree=tree)
        self.assertIn("a corpus without a fuzz target", found[0])

    def test_the_line_of_a_breach_is_right(self):
        found = about("sim/wire/a.cpp", OPENING + "/* two\nlines */\nint x = rand();\n")
        self.assertEqual([c.split(":")[1] for c in found], ["4"])


if __name__ == "__main__":
    unittest.main()
