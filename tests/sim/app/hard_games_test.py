"""Recordings of sessions with games that behave badly: absent, slow, not reading, flooding,
crashing, closing in mid-line, coming and going. Each must verify, whatever the game did."""

import concurrent.futures
import os
import re
import subprocess
import sys
import tempfile
import unittest

PROGRAM = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")
TRAM = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios/tram/tram.panel.toml")

OPEN = "import os, time; port = os.open(os.environ['UNDERSTUDY_PORT'], os.O_RDWR | os.O_NOCTTY); "
GAMES = {
    "absent": "import time; time.sleep(2.5)",
    "slow": OPEN + "\nfor _ in range(100): os.read(port, 7); time.sleep(0.03)",
    "not reading": OPEN + "time.sleep(3)",
    "flooding": OPEN + "\nos.set_blocking(port, False)\nend = time.time() + 3\n"
                "while time.time() < end:\n"
                "  try: os.write(port, b'255,0,0,255,34,130\\n' * 20)\n"
                "  except BlockingIOError: time.sleep(0.001)",
    "noise": OPEN + "\nfor _ in range(50): os.write(port, os.urandom(97)); time.sleep(0.05)",
    "crashing": OPEN + "os.write(port, b'255,0,'); time.sleep(2); os.kill(os.getpid(), 11)",
    "coming and going": "import os, time\nfor _ in range(25):\n  " + OPEN.replace("; ", "\n  ") +
                        "os.write(port, b'1,2\\n')\n  time.sleep(0.05)\n"
                        "  os.close(port)\n  time.sleep(0.05)",
    "another speed": OPEN + "import termios\n"
                     "settings = termios.tcgetattr(port)\n"
                     "settings[4] = settings[5] = termios.B9600\n"
                     "termios.tcsetattr(port, termios.TCSANOW, settings)\n"
                     "end = time.time() + 3\n"
                     "while time.time() < end: os.read(port, 64); "
                     "os.write(port, b'9,9,9,9,9,9\\n')",
}


class HardGames(unittest.TestCase):
    def play(self, name, record):
        """Ends with the game; gives what serve said."""
        done = subprocess.run(
            [PROGRAM, "serve", TRAM, "--tcp", "0", "--play", "wander", "--record", record,
             "--", sys.executable, "-c", GAMES[name]],
            stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=60, check=False)
        self.assertEqual(done.returncode, 1 if name == "crashing" else 0, done.stderr)
        return done.stderr

    def play_and_verify(self, name):
        with tempfile.TemporaryDirectory() as folder:
            record = os.path.join(folder, "run.jsonl")
            said = self.play(name, record)
            done = subprocess.run([PROGRAM, "replay", record, "--verify"], capture_output=True,
                                  text=True, timeout=60, check=False)
            self.assertEqual(done.returncode, 0, name + ": " + said + done.stdout + done.stderr)

    def test_every_recording_of_a_game_that_behaves_badly_verifies(self):
        with concurrent.futures.ThreadPoolExecutor(len(GAMES)) as pool:
            list(pool.map(self.play_and_verify, GAMES))

    def test_a_digit_changed_in_the_lines_is_found_and_named(self):
        with tempfile.TemporaryDirectory() as folder:
            record = os.path.join(folder, "run.jsonl")
            self.play("slow", record)
            with open(record, encoding="utf-8") as file:
                lines = file.readlines()
            place = max(i for i, line in enumerate(lines)
                        if re.search(r'"from":"panel","text":"\d+,\d', line))
            lines[place] = re.sub(r'("text":")(\d)', lambda m: m[1] + str((int(m[2]) + 1) % 10),
                                  lines[place])
            at_s = int(re.search(r'"ns":(\d+)', lines[place])[1]) // 1_000_000_000
            with open(record, "w", encoding="utf-8") as file:
                file.writelines(lines)
            done = subprocess.run([PROGRAM, "replay", record, "--verify"], capture_output=True,
                                  text=True, timeout=60, check=False)
            self.assertEqual(done.returncode, 1, done.stdout + done.stderr)
            self.assertRegex(done.stderr,
                             rf"\bline {place + 1}: at {at_s}\.\d+ s, seat tram: chunk ")


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
