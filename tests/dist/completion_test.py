# Completion in real shells: what bash's function offers, and what a person sees in an interactive
# bash and zsh who presses the tabulator, in a pseudo-terminal.   completion_test.py UNDERSTUDY
import os
import pty
import re
import select
import subprocess
import sys
import tempfile

PROGRAM = sys.argv[1]
LIMIT_S = 20
MARK = "what follows is the answer"
# (words before the tabulator, what is offered)
CASES = [
    ("understudy ser", {"serve"}),
    ("understudy completion ", {"bash", "zsh"}),
    ("understudy serve --pl", {"--play"}),
    ("understudy serve desk.panel.toml --play ", {"wander", "sweep"}),
    ("understudy serve desk.panel.toml --play=s", {"sweep"}),
    ("understudy serve desk.panel.toml --tcp-dtr ", {"raised", "low"}),
    ("understudy serve ", {"desk.panel.toml", "a folder"}),
    ("understudy serve de", {"desk.panel.toml"}),
    ("understudy emit desk.panel.toml --record ", {"desk.panel.toml", "a folder", "notes.txt"}),
    ("understudy serve desk.panel.toml -- ./game no", {"notes.txt"}),
    ("understudy measure no", {"notes.txt"}),
    ("understudy explain manners.ga", {"manners.gather", "manners.gather.until",
                                       "manners.gather.at_most"}),
    ("understudy check --", {"--help", "--json"}),
    ("understudy serve desk.panel.toml --seed ", set()),
]


def words_of(line):
    """As bash cuts a line for completion: at blanks, and around =."""
    words = re.findall(r"[^ =]+|=", line)
    return words + [""] if line.endswith((" ", "=")) else words


def check_bash_function(script, folder):
    for line, expected in CASES:
        words = words_of(line)
        quoted = " ".join("'" + word + "'" for word in words)
        run = subprocess.run(
            ["bash", "--norc", "-c",
             f"source '{script}'; COMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}\n"
             "_understudy; printf '%s\\n' \"${COMPREPLY[@]}\""],
            cwd=folder, capture_output=True, text=True)
        assert run.stderr == "", f"bash, {line!r}: {run.stderr}"
        offered = set(run.stdout.splitlines()) - {""}
        assert offered == expected, f"bash, {line!r}: offers {offered}, not {expected}"
    for verb in re.findall(r"^  (\w+) +\S", help_of(), re.M):
        run = subprocess.run(["bash", "--norc", "-c",
                              f"source '{script}'; _understudy_options {verb}"],
                             capture_output=True, text=True)
        shown = set(re.findall(r"^  (--[a-z]\S*)", help_of(verb), re.M))
        assert shown <= set(run.stdout.split()), f"bash lacks options of {verb}: {shown}"


def help_of(*words):
    return subprocess.run([PROGRAM, *words, "--help"], check=True, capture_output=True,
                          text=True).stdout


class Typist:
    """Someone at an interactive shell."""

    def __init__(self, command, folder):
        self.process, self.terminal = pty.fork()
        if self.process == 0:
            os.chdir(folder)
            path = os.path.dirname(PROGRAM) + ":" + os.environ["PATH"]
            os.execvpe(command[0], command, {**os.environ, "PATH": path, "TERM": "dumb",
                                             "HOME": folder, "LC_ALL": "C.UTF-8"})

    def type(self, text):
        os.write(self.terminal, text.encode())

    def see(self, pattern):
        """What is shown up to and with `pattern`."""
        seen = ""
        while not re.search(pattern, seen):
            ready, _, _ = select.select([self.terminal], [], [], LIMIT_S)
            assert ready, f"waited in vain for {pattern!r}; seen: {seen!r}"
            seen += os.read(self.terminal, 4096).decode(errors="replace")
        return seen

    def end(self):
        os.close(self.terminal)
        os.waitpid(self.process, 0)


def check_typing(command, prepare, folder):
    """The tabulator completes a verb, an option, a word and a file with a blank; echo shows it."""
    typist = Typist(command, folder)
    try:
        typist.type(prepare + "\n")
        typist.type("understudy() { printf '<%s>' \"$@\"; echo; }\n")
        typist.type(f'echo {MARK[:4]}"{MARK[4:]}"\n')
        typist.see(re.escape(MARK) + r"\r?\n")
        for typed, done in (
                ("understudy ser\tde\t--pl\tsw\t", "<serve><desk.panel.toml><--play(><|=)sweep>"),
                ("understudy che\tin\\ \tde\t", "<check><in blanks/deep.panel.toml>"),
                ("understudy serve x -- ./ga\tnot\t", "<serve><x><--><./game><notes.txt>")):
            typist.type(typed + "\n")
            typist.see(done.replace(".", "[.]"))  # zsh joins an option and its value by =
    finally:
        typist.end()


def fill(folder, scripts):
    """A folder to complete files in; the completions of both shells in another."""
    for name in ("desk.panel.toml", "notes.txt"):
        open(os.path.join(folder, name), "w", encoding="utf-8").close()
    os.mkdir(os.path.join(folder, "a folder"))
    for name, shell in (("bash", "bash"), ("_understudy", "zsh")):
        with open(os.path.join(scripts, name), "w", encoding="utf-8") as file:
            subprocess.run([PROGRAM, "completion", shell], check=True, stdout=file)


def main():
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as scripts:
        fill(folder, scripts)
        check_bash_function(os.path.join(scripts, "bash"), folder)

        os.mkdir(os.path.join(folder, "in blanks"))
        open(os.path.join(folder, "in blanks", "deep.panel.toml"), "w", encoding="utf-8").close()
        game = os.path.join(folder, "game")
        with open(game, "w", encoding="utf-8") as file:
            file.write("#!/bin/sh\n")
        os.chmod(game, 0o755)
        check_typing(["bash", "--norc", "--noprofile", "-i"], f"source '{scripts}/bash'", folder)
        begin = "autoload -Uz compinit; compinit -D -u"
        check_typing(["zsh", "-f", "-i"], f"{begin}; source '{scripts}/_understudy'", folder)
        check_typing(["zsh", "-f", "-i"], f"fpath=('{scripts}' $fpath); {begin}", folder)


main()
