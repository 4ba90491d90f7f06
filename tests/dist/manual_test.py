# The manual page: formatters find no fault, and it has each verb and each option that --help has.
# manual_test.py UNDERSTUDY
import os
import re
import shutil
import subprocess
import sys
import tempfile

PROGRAM = sys.argv[1]


def output(*words):
    return subprocess.run([PROGRAM, *words], check=True, capture_output=True, text=True).stdout


def formatted(page):
    """The page as man shows it; its complaints are a failure."""
    environment = {**os.environ, "LC_ALL": "C.UTF-8", "MANWIDTH": "100", "MAN_KEEP_FORMATTING": ""}
    shown = subprocess.run(["man", "--warnings", "-l", page], check=True, capture_output=True,
                           text=True, env=environment)
    assert shown.stderr == "", "man complains:\n" + shown.stderr
    return re.sub(r".\x08", "", shown.stdout)


def check_formatters(page):
    groff = subprocess.run(["groff", "-man", "-Tutf8", "-ww", "-z", page], capture_output=True,
                           text=True)
    assert groff.returncode == 0 and groff.stderr == "", "groff complains:\n" + groff.stderr
    if shutil.which("mandoc") is None:
        return
    lint = subprocess.run(["mandoc", "-T", "lint", "-W", "warning", page], capture_output=True,
                          text=True).stdout.splitlines()
    # The page has no date: it would be that of the build, and equal sources give equal pages.
    lint = [line for line in lint if "missing date" not in line]
    assert not lint, "mandoc complains:\n" + "\n".join(lint)


def check_words(page):
    text = formatted(page)
    verbs = re.findall(r"^  (\w+) +\S", output("--help"), re.M)
    assert len(verbs) >= 9, f"--help lists only {verbs}"
    for verb in verbs:
        start = re.search(rf"^ +understudy {verb} .*\n", text, re.M)
        assert start, f"the manual lacks {verb}"
        rest = text[start.end():]
        part = re.split(r"^   understudy |^[A-Z]", rest, maxsplit=1, flags=re.M)[0]
        for option in re.findall(r"^  (--\S.*?)(?:  |$)", output(verb, "--help"), re.M):
            if option.startswith("-- "):
                continue
            assert re.search(rf"^ +{re.escape(option)}(\s|$)", part, re.M), (
                f"the manual of {verb} lacks {option}; it says:\n{part}")
    assert "understudy " + output("--version").split()[1] in text.splitlines()[-1], (
        "the last line lacks the version")


with tempfile.TemporaryDirectory() as folder:
    page = os.path.join(folder, "understudy.1")
    with open(page, "w", encoding="utf-8") as file:
        file.write(output("manual"))
    check_formatters(page)
    check_words(page)
