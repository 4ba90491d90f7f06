# One panel of every kind, each behind a client of another maker. Hands move the control, and what
# the client reads must say so; what the client writes must show on the output. The recording of
# each must have every line that was read, and hold when it is played again. All run at the same
# time, each with a panel of its own.
# Argument: understudy.
import json
import os
import subprocess
import sys
import tempfile
import threading
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, HERE)
import kinds_clients as clients
from kinds_cases import CONTROLS, OUTPUTS
from serving import Recording

PATIENCE_S = 20  # a busy machine; nothing here waits so long when all is well
WHO = {"pot": clients.Pyserial, "button": clients.Shell, "switch": clients.Picocom,
       "selector": clients.DotNet, "stick": clients.Lua, "encoder": clients.Node,
       "sensor": clients.Perl, "matrix": clients.Socat, "lamp": clients.Shell,
       "rgb": clients.Node, "gauge": clients.SocatTcp, "buzzer": clients.Perl,
       "digits": clients.Picocom}


class Session:
    """One kind, its panel and its client, from start to judgement."""

    def __init__(self, program, folder, case):
        self.program, self.case, self.kind = program, case, case["kind"]
        self.complaints, self.summary = [], "nothing"
        self.folder = os.path.join(folder, self.kind)
        os.mkdir(self.folder)
        self.panel = os.path.join(self.folder, "it.panel.toml")
        with open(self.panel, "w", encoding="utf-8") as file:
            file.write(case["panel"])
        self.client = WHO[self.kind](self.folder, case["write"])

    def complain_unless(self, holds, words):
        if not holds:
            self.complaints.append("%s: %s" % (self.kind, words))

    def run(self):
        try:
            self.serve = self.client.serve(self.program, self.panel)
            try:
                self.client.start()
                self.play()
            finally:
                self.client.stop()
                status = self.serve.stop()
            self.complain_unless(status == 130, "serve ended with %s" % status)
            self.judge()
        except Exception as error:
            self.complain_unless(False, repr(error))

    def play(self):
        self.wait_for_line(0, lambda line: True, "any line")
        for hand, holds in self.case["steps"]:
            seen = len(self.client.lines())
            if hand:
                self.move(hand)
            self.wait_for_line(seen, holds, "what %r should give" % hand)
        self.wait(lambda: len(self.outputs()) >= len(self.case["becomes"]), "its outputs")
        time.sleep(0.5)  # what comes too much would show

    def move(self, hand):
        done = subprocess.run([self.program, "hand", "--process", str(self.serve.process.pid),
                               hand], capture_output=True, text=True, timeout=PATIENCE_S)
        self.complain_unless(done.returncode == 0, "hand %r: %s" % (hand, done.stderr))

    def wait(self, holds, what):
        until = time.monotonic() + PATIENCE_S
        while not holds():
            if time.monotonic() > until:
                raise RuntimeError("never saw %s; last lines %s, client: %s" % (
                    what, self.client.lines()[-3:], self.client.complaint()))
            time.sleep(0.05)

    def wait_for_line(self, after, holds, what):
        self.wait(lambda: any(self.case["shape"].fullmatch(line) and holds(line)
                              for line in self.client.lines()[after:]), what)

    def outputs(self):
        """Part and number of each change, so far as the recording is on disk and whole."""
        with open(self.serve.recording, "rb") as file:
            text = file.read()
        events = [json.loads(line) for line in text[:text.rfind(b"\n") + 1].splitlines()[1:]]
        return [(event.get("part"), event["number"]) for event in events if "output" in event]

    def judge(self):
        lines = self.client.lines()
        wrong = [line for line in lines if not self.case["shape"].fullmatch(line)]
        self.complain_unless(not wrong, "read wrong lines such as %r" % wrong[:1])
        self.complain_unless(wrong or self.case["law"](lines), "lines are against its law: %s"
                             % [line for line, next_one in zip(lines, lines[1:] + [""])
                                if line != next_one][-40:])
        sent = Recording(self.serve.recording).to_game.decode().replace("\r", "")
        self.complain_unless("\n".join(lines) + "\n" in sent, "read what the recording has not")
        self.complain_unless(self.outputs() == self.case["becomes"],
                             "outputs became %s" % self.outputs())
        done = subprocess.run([self.program, "replay", self.serve.recording, "--verify"],
                              capture_output=True, text=True, timeout=3 * PATIENCE_S)
        self.complain_unless(done.returncode == 0, "does not hold: " + done.stderr)
        self.summary = "%d lines, %d changes of outputs" % (len(lines), len(self.outputs()))


def main():
    program, = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        sessions = [Session(program, folder, case) for case in [*CONTROLS.values(),
                                                                *OUTPUTS.values()]]
        threads = [threading.Thread(target=session.run) for session in sessions]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    for session in sessions:
        print("%-9s by %-9s %s" % (session.kind, type(session.client).__name__, session.summary))
    complaints = [words for session in sessions for words in session.complaints]
    print("\n".join(complaints))
    return 1 if complaints else 0


sys.exit(main())
