"""`understudy emit` from outside: the same bytes for the same words, hands, recordings that verify,
and standard outputs that are closed or full."""

import os
import subprocess
import sys
import tempfile
import unittest

PROGRAM = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")
TRAM = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios/tram/tram.panel.toml")


def emit(*words, stdout=subprocess.PIPE):
    return subprocess.run([PROGRAM, "emit", TRAM, *words], stdin=subprocess.DEVNULL,
                          stdout=stdout, stderr=subprocess.PIPE, timeout=60, check=False)


class EmitTest(unittest.TestCase):
    def test_the_same_seed_gives_the_same_bytes_and_another_seed_others(self):
        first, again, other = (emit("--for", "5s", "--seed", seed) for seed in ("7", "7", "8"))
        self.assertEqual(first.stdout, again.stdout)
        self.assertEqual(first.stderr, again.stderr)  # the fingerprint
        self.assertNotEqual(first.stdout, other.stdout)

    def test_lines_come_in_the_rhythm_of_the_loop_once_the_board_runs(self):
        lines = emit("--for", "10s").stdout.splitlines()
        self.assertEqual(lines[0], b"tram-desk 1")
        # 1.5 s +- 0.3 s of boot, then a line each 20 ms
        self.assertTrue((10 - 1.8) * 50 - 2 <= len(lines) <= (10 - 1.2) * 50 + 2, len(lines))
        for line in lines[1:]:
            self.assertEqual(len(line.split(b",")), 5, line)

    def test_a_run_that_ends_before_the_board_has_started_says_so(self):
        short, longer = emit("--for", "1s"), emit("--for", "2s")
        self.assertEqual(short.stdout, b"")
        self.assertIn(b"the board was still starting", short.stderr)
        self.assertNotEqual(longer.stdout, b"")
        self.assertNotIn(b"starting", longer.stderr)

    def test_a_hand_moves_a_control_for_as_long_as_it_was_told(self):
        lines = emit("--for", "6s", "--hand", "bell down from 3s for 1s").stdout.splitlines()
        rung = sum(line.split(b",")[2] == b"1" for line in lines[1:])
        self.assertTrue(48 <= rung <= 52, rung)  # 1 s of 20 ms loops, bounce at both ends

    def test_a_wrong_hand_is_refused_before_anything_is_emitted(self):
        done = emit("--for", "1s", "--hand", "bel down")
        self.assertEqual((done.returncode, done.stdout), (2, b""))
        self.assertIn(b"the nearest is 'bell'", done.stderr)

    def test_an_empty_hand_is_refused_on_a_command_line(self):
        for words in ("", "  ", "# bell down"):
            done = emit("--for", "1s", "--hand", words)
            self.assertEqual((done.returncode, done.stdout), (2, b""), words)
            self.assertIn(b"no movement is said: a hand's words are: NAME down", done.stderr)
            # No session is looked for: the words are wrong whichever it is.
            told = subprocess.run([PROGRAM, "hand", words], capture_output=True, timeout=60,
                                  check=False)
            self.assertEqual(told.returncode, 2, words)
            self.assertIn(b"understudy hand: no movement is said", told.stderr)

    def test_what_is_recorded_verifies_compressed_or_not(self):
        with tempfile.TemporaryDirectory() as folder:
            for name in ("run.jsonl", "run.jsonl.zst"):
                path = os.path.join(folder, name)
                made = emit("--for", "25s", "--play", "wander", "--record", path)
                self.assertEqual(made.returncode, 0, made.stderr)
                verified = subprocess.run([PROGRAM, "replay", path, "--verify"],
                                          capture_output=True, timeout=60, check=False)
                self.assertEqual(verified.returncode, 0, verified.stderr)
                shown = subprocess.run([PROGRAM, "replay", path, "--stdout"],
                                       capture_output=True, timeout=60, check=False)
                self.assertEqual(shown.stdout, made.stdout)

    def test_a_reader_that_has_enough_ends_it_quietly(self):
        done = subprocess.run(f"'{PROGRAM}' emit '{TRAM}' --for 1h --quiet | head -n 1; ",
                              shell=True, capture_output=True, timeout=60, check=False)
        self.assertEqual((done.stdout, done.stderr), (b"tram-desk 1\n", b""))

    def test_a_full_disk_is_an_error(self):
        with open("/dev/full", "wb") as full:
            done = emit("--for", "10s", stdout=full)
        self.assertEqual(done.returncode, 2)
        self.assertIn(b"cannot write to standard output: No space left", done.stderr)

    def test_a_recording_that_standard_output_cut_short_is_not_called_complete(self):
        with tempfile.TemporaryDirectory() as folder, open("/dev/full", "wb") as full:
            path = os.path.join(folder, "run.jsonl")
            self.assertEqual(emit("--for", "10s", "--record", path, stdout=full).returncode, 2)
            with open(path, encoding="utf-8") as file:
                last = file.readlines()[-1]
        self.assertIn('"ended":"the program left before the end"', last)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
