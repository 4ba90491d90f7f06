# The verbs new, check and explain as somebody types them: what they write, print and end with.
# What is learnt, checked and explained is tested in tests/sim/panel.
import json
import os
import subprocess
import sys
import tempfile
import unittest

PROGRAM = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")
TRAM = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios/tram/tram.panel.toml")


class PanelVerbs(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def run_verb(self, *words, answers=""):
        return subprocess.run([PROGRAM, *words], cwd=self.folder.name, input=answers, text=True,
                              capture_output=True, timeout=60)

    def path(self, name):
        return os.path.join(self.folder.name, name)

    def read(self, name):
        with open(self.path(name), encoding="utf-8") as file:
            return file.read()

    def test_a_line_becomes_a_panel_that_check_takes(self):
        made = self.run_verb("new", "desk", "--from-line", "512,300,1,0")
        self.assertEqual((made.returncode, made.stderr), (0, ""))
        self.assertIn("wrote desk.panel.toml\n", made.stdout)
        self.assertIn("next: understudy check desk.panel.toml\n", made.stdout)
        self.assertIn("No lamps are described: give --lamps N", made.stdout)
        self.assertIn("\n# [[output]]\n", self.read("desk.panel.toml"))
        checked = self.run_verb("check", "desk.panel.toml")
        self.assertEqual((checked.returncode, checked.stderr), (0, ""))
        self.assertTrue(checked.stdout.startswith("Desk (desk.panel.toml): right\n"))
        self.assertIn("\n  {pot_1},{pot_2},{button_1},{button_2}\n", checked.stdout)

    def kinds_in(self, name):
        text = self.read(name)
        return {kind: text.count(f'\nkind = "{kind}"')
                for kind in ("pot", "button", "switch", "lamp")}

    def test_counts_become_a_panel_without_a_question(self):
        made = self.run_verb("new", "pad", "--pots", "2", "--buttons", "6", "--switches", "0",
                             "--lamps", "4")
        self.assertEqual((made.returncode, made.stderr), (0, ""))
        self.assertEqual(self.kinds_in("pad.panel.toml"),
                         {"pot": 2, "button": 6, "switch": 0, "lamp": 4})
        self.assertEqual(self.run_verb("check", "pad.panel.toml").returncode, 0)
        self.assertEqual(self.run_verb("new", "one", "--switches", "1").returncode, 0)
        self.assertEqual(self.kinds_in("one.panel.toml"),
                         {"pot": 0, "button": 0, "switch": 1, "lamp": 0})
        for counts, said in ((("--pots", "33"), "--pots is '33'; it takes a whole number from 0 "
                              "to 32"),
                             (("--lamps", "few"), "--lamps is 'few'; it takes a whole number"),
                             (("--pots", "0"), "a panel has at least one pot, button, switch or "
                              "lamp"),
                             (("--pots", "2", "--from-line", "1,2"), "only --lamps goes with")):
            refused = self.run_verb("new", "none", *counts)
            self.assertEqual(refused.returncode, 2)
            self.assertIn(said, refused.stderr)
            self.assertFalse(os.path.exists(self.path("none.panel.toml")))

    def test_lamps_are_counted_beside_a_line(self):
        made = self.run_verb("new", "desk", "--from-line", "512,1", "--lamps", "3")
        self.assertEqual((made.returncode, made.stderr), (0, ""))
        self.assertNotIn("No lamps", made.stdout)
        self.assertEqual(self.kinds_in("desk.panel.toml"),
                         {"pot": 1, "button": 1, "switch": 0, "lamp": 3})
        self.assertIn("\n  {lamp_1},{lamp_2},{lamp_3}\n",
                      self.run_verb("check", "desk.panel.toml").stdout)

    def test_what_is_proposed_next_can_be_pasted_into_a_shell(self):
        for name in ("my pad", "it's", "plain-1"):
            made = self.run_verb("new", name, "--from-line", "512,1")
            self.assertEqual(made.returncode, 0, made.stderr)
            command = made.stdout.split("\nnext: understudy ")[1].split("\n")[0]
            checked = subprocess.run(["sh", "-c", f"'{PROGRAM}' {command}"], text=True,
                                     cwd=self.folder.name, capture_output=True, timeout=60)
            self.assertEqual((checked.returncode, checked.stderr), (0, ""))
        self.assertTrue(command.endswith(" plain-1.panel.toml"))

    def test_a_file_that_is_there_is_not_written_over_without_force(self):
        with open(self.path("desk.panel.toml"), "w", encoding="utf-8") as file:
            file.write("mine")
        refused = self.run_verb("new", "desk", "--from-line", "1,2")
        self.assertEqual(refused.returncode, 2)
        self.assertEqual(refused.stderr,
                         "understudy new: cannot write desk.panel.toml: it is there already; "
                         "choose another name, or --force to write over it\n")
        self.assertEqual(self.read("desk.panel.toml"), "mine")
        asked = self.run_verb("new", "desk", answers="\n")
        self.assertEqual((asked.returncode, asked.stderr), (2, refused.stderr))  # nothing is asked
        forced = self.run_verb("new", "desk", "--force", "--from-line", "1,2")
        self.assertEqual(forced.returncode, 0)
        self.assertEqual(self.kinds_in("desk.panel.toml"),
                         {"pot": 1, "button": 1, "switch": 0, "lamp": 0})

    def test_a_log_of_lines_becomes_a_panel(self):
        with open(self.path("log.txt"), "w", encoding="utf-8") as file:
            file.write("".join(f"a={n * 7 % 900};b={n % 2}\n" for n in range(50)))
        made = self.run_verb("new", "logged", "--from-recording", "log.txt")
        self.assertEqual((made.returncode, made.stderr), (0, ""))
        self.assertIn('text = "a={a};b={b}"', self.read("logged.panel.toml"))
        self.assertEqual(self.run_verb("check", "logged.panel.toml").returncode, 0)

    def test_six_answers_become_a_panel(self):
        made = self.run_verb("new", "six", answers="Night desk\n3\n6\n1\n4\n2\n")
        self.assertEqual(made.returncode, 0, made.stderr)
        # One usual answer for each question; the seventh is left open.
        self.assertEqual(made.stderr.count("["), 7)
        text = self.read("six.panel.toml")
        self.assertIn('panel = "Night desk"', text)
        self.assertIn('board = "bridge-16ms"', text)
        self.assertEqual(self.kinds_in("six.panel.toml"),
                         {"pot": 3, "button": 6, "switch": 1, "lamp": 4})
        self.assertEqual(self.run_verb("check", "six.panel.toml").returncode, 0)

    def test_an_empty_input_is_an_error_that_says_what_to_type(self):
        made = self.run_verb("new", "none")
        self.assertEqual(made.returncode, 2)
        self.assertIn("standard input is empty", made.stderr)
        self.assertIn("--pots 2 --buttons 2 --lamps 2", made.stderr)
        self.assertEqual(made.stderr.count("["), 1)  # and no second question
        self.assertFalse(os.path.exists(self.path("none.panel.toml")))

    def test_a_seventh_answer_adds_the_other_kinds(self):
        made = self.run_verb("new", "seven", answers="Pad\n1\n1\n0\n1\n1\n1 stick, 2 encoders\n")
        self.assertEqual(made.returncode, 0, made.stderr)
        text = self.read("seven.panel.toml")
        kinds = ("encoder", "stick", "sensor")
        self.assertEqual([text.count(f'kind = "{kind}"') for kind in kinds],
                         [2, 1, 0])
        self.assertEqual(self.run_verb("check", "seven.panel.toml").returncode, 0)
        wrong = self.run_verb("new", "odd", answers="Pad\n1\n1\n0\n1\n1\n2 handles\n")
        self.assertEqual(wrong.returncode, 2)
        self.assertIn("1 selector, 2 encoders", wrong.stderr)

    def test_empty_answers_take_the_usual_ones(self):
        self.assertEqual(self.run_verb("new", "usual", answers="\n").returncode, 0)
        self.assertEqual(self.kinds_in("usual.panel.toml"),
                         {"pot": 2, "button": 2, "switch": 0, "lamp": 2})
        self.assertEqual(self.run_verb("check", "usual.panel.toml").returncode, 0)

    def test_a_wrong_answer_is_asked_for_again(self):
        made = self.run_verb("new", "again", answers="X\nmany\ntwo\n3\n")
        self.assertEqual(made.returncode, 0, made.stderr)
        self.assertEqual(made.stderr.count("How many pots"), 3)
        self.assertIn('"two" is no answer; a whole number from 0 to 32 would be\n', made.stderr)
        self.assertEqual(self.kinds_in("again.panel.toml")["pot"], 3)

    def test_three_wrong_answers_or_a_last_one_end_with_an_error_that_names_it(self):
        for answers in ("X\none\ntwo\nmany\n2\n", "X\nmany\n", "X\nmany"):
            made = self.run_verb("new", "wrong", answers=answers)
            self.assertEqual(made.returncode, 2)
            self.assertTrue(made.stderr.endswith(
                'understudy new: How many pots, turned or slid? "many" is no answer; a whole '
                'number from 0 to 32 would be\n'), made.stderr)
            self.assertFalse(os.path.exists(self.path("wrong.panel.toml")))

    def test_every_file_is_checked_and_the_worst_decides(self):
        with open(self.path("bad.toml"), "w", encoding="utf-8") as file:
            file.write('panel = "X"\n[[control]]\nname = "a"\nkind = "poti"\n')
        checked = self.run_verb("check", "bad.toml", "missing.toml", TRAM)
        self.assertEqual(checked.returncode, 2)
        self.assertEqual(
            checked.stderr,
            'understudy check: bad.toml:4:8: control.kind: found "poti", expected "pot", "button", '
            '"switch", "selector", "stick", "encoder" or "sensor"; the nearest is "pot"\n'
            "understudy check: cannot read panel file missing.toml: No such file or directory; "
            "understudy new NAME writes one\n")
        self.assertTrue(checked.stdout.startswith("Tram desk ("))

    def test_the_panel_that_is_likely_meant_is_offered(self):
        self.run_verb("new", "pad", "--pots", "1")
        for verb in ("check", "serve"):
            said = self.run_verb(verb, "pad").stderr
            self.assertTrue(said.endswith("; did you mean pad.panel.toml?\n"), said)
        self.assertIn("put -- before your game", self.run_verb("serve", "game.py").stderr)

    def test_a_box_that_cannot_be_built_ends_with_two(self):
        with open(self.path("twice.toml"), "w", encoding="utf-8") as file:
            file.write('panel = "X"\n' + "".join(
                f'[[control]]\nname = "{name}"\nkind = "pot"\npin = "A0"\n' for name in "ab"))
        checked = self.run_verb("check", "twice.toml")
        self.assertEqual(checked.returncode, 2)
        self.assertIn("wrong    A0: a and b are on the same pin", checked.stdout)

    def test_the_answer_as_json_is_a_list_with_an_entry_for_each_file(self):
        checked = self.run_verb("check", "--json", TRAM, "missing.toml")
        note = json.loads(checked.stdout)[0]["remarks"][-1]
        self.assertEqual((note["severity"], note["about"]), ("note", "wire"))
        self.assertIn("57600", note["remedy"])
        self.assertEqual(checked.returncode, 2)
        right, missing = json.loads(checked.stdout)
        self.assertTrue(right["right"])
        self.assertEqual(right["pins"][0], {"pin": "A0", "part": "power", "kind": "pot"})
        self.assertEqual(right["rates"]["wire_bytes_a_second"], 11520)
        self.assertEqual(right["rates"]["to_game"][0]["interval_ns"], 20_000_000)
        self.assertEqual(right["currents"]["lamps"][0]["current_ua"], 13636)  # 3 V / 220 ohm
        self.assertFalse(missing["right"])
        self.assertIn("No such file", missing["error"])

    def test_the_rate_that_check_tells_is_the_rate_that_the_panel_sends_at(self):
        tables = {
            "every": ('', 'send = { every = "50 ms" }\n'),
            "slow wire": ('[manners]\nloop = "10 ms"\n[wire]\nbaud = 9600\n', ''),
            "free": ('[manners]\nloop = "free"\n', ''),
            "work": ('[manners]\nloop = "1 ms"\nwork = "3 ms"\n', ''),
        }
        for name, (manners, send) in tables.items():
            with open(self.path("rate.toml"), "w", encoding="utf-8") as file:
                file.write('panel = "X"\n' + manners + '[[control]]\nname = "a"\nkind = "pot"\n'
                           '[[line]]\nto = "game"\ntext = "0123456789:{a:4}"\n' + send)
            report = json.loads(self.run_verb("check", "--json", "rate.toml").stdout)[0]
            told = 1e9 / report["rates"]["to_game"][0]["interval_ns"]
            lines = {seconds: self.run_verb("emit", "rate.toml", "--for", f"{seconds}s").stdout
                     .count("\n") for seconds in (5, 25)}
            sent = (lines[25] - lines[5]) / 20
            # A reading takes 13 to 14 ticks, and check counts 14; 115200 baud are 2.1 % fast.
            self.assertLess(abs(sent / told - 1), 0.04, f"{name}: told {told}, sent {sent}")

    def test_explain_knows_keys_and_writes_a_schema(self):
        self.assertTrue(self.run_verb("explain", "loop").stdout.startswith("manners.loop\n"))
        unknown = self.run_verb("explain", "lop")
        self.assertEqual((unknown.returncode, unknown.stderr),
                         (2, 'understudy explain: there is no key "lop"; the nearest is loop\n'))
        schema = json.loads(self.run_verb("explain", "--schema").stdout)
        self.assertEqual(schema["required"], ["panel"])
        self.assertEqual(self.run_verb("explain", "loop", "--schema").returncode, 2)


if __name__ == "__main__":
    sys.exit(unittest.main())
