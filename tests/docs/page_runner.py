# Runs what a page of the guide tells people to type: in one empty folder, with the program on the
# path, block by block in the order of the page. What runs in the background ends with its section
# (## heading).
#   ```sh      is run by sh -eu, which must succeed within the limit
# Other blocks are only for reading. An order stands in a line of its own before the block:
#   <!-- test: save as game.py -->     the block, of any language, becomes that file
#   <!-- test: leave running -->       it runs in the background; on, when it has said `ready`
#   <!-- test: skip, REASON -->        for what only a person or a certain machine can do
# and two orders stand alone: `copy PATH` brings a file of the sources, `link build` the build tree.
import os
import re
import shutil
import signal
import subprocess
import tempfile
import time

LIMIT_S = 30
FENCE = re.compile(r"```(\w*)$")
ORDER = re.compile(r"<!-- test: (.*) -->$")


class Block:
    def __init__(self, section, line, language, order):
        self.section, self.line, self.language, self.order = section, line, language, order
        self.text = ""


def blocks_of(path):
    """The fenced blocks of a page with the order before each, and orders that stand alone."""
    blocks, section, order, inside = [], "", "", None
    with open(path, encoding="utf-8") as file:
        lines = file.read().split("\n")
    for number, line in enumerate(lines, 1):
        if inside is not None and line == "```":
            inside, order = None, ""
        elif inside is not None:
            inside.text += line + "\n"
        elif FENCE.match(line):
            inside = Block(section, number, FENCE.match(line).group(1), order)
            blocks.append(inside)
        elif ORDER.match(line):
            order = ORDER.match(line).group(1)
            if order.split(" ")[0] in ("copy", "link"):
                blocks.append(Block(section, number, "", order))
                order = ""
        elif line.startswith("## "):
            section = line[3:]
    return blocks


class Page:
    """One page being played."""

    def __init__(self, path, folder, source_root, build_root):
        self.path, self.folder = path, folder
        self.source_root, self.build_root = source_root, build_root
        self.running = []
        # The system's own python3 is the one that Debian's packages extend.
        self.environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1",
                            "PATH": build_root + ":/usr/bin:" + os.environ["PATH"]}

    def do(self, block):
        """What is wrong with it, or None."""
        order, _, rest = block.order.partition(" ")
        if order == "copy":
            shutil.copy(os.path.join(self.source_root, rest), self.folder)
        elif block.order == "link build":
            os.symlink(self.build_root, os.path.join(self.folder, "build"))
        elif block.order.startswith("save as "):
            with open(os.path.join(self.folder, block.order[8:]), "w", encoding="utf-8") as file:
                file.write(block.text)
        elif block.order == "leave running":
            return self.start(block)
        elif order == "skip," or (not order and block.language != "sh"):
            return None
        elif order:
            return "'test: %s' is no order" % block.order
        else:
            return self.finish(block)
        return None

    def finish(self, block):
        try:
            done = subprocess.run(["sh", "-eu", "-c", block.text], cwd=self.folder, timeout=LIMIT_S,
                                  env=self.environment, stdin=subprocess.DEVNULL,
                                  stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        except subprocess.TimeoutExpired as late:
            return "not done after %d s; it said: %s" % (LIMIT_S, late.output)
        if done.returncode != 0:
            return "status %d; it said: %s" % (done.returncode, done.stdout.decode())
        return None

    def start(self, block):
        said = tempfile.TemporaryFile()
        process = subprocess.Popen(["sh", "-eu", "-c", block.text], cwd=self.folder, stdout=said,
                                   stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL,
                                   env=self.environment, start_new_session=True)
        self.running.append((process, said))
        words = b""
        for _ in range(LIMIT_S * 20):
            time.sleep(0.05)
            said.seek(0)
            words = said.read()
            if b"ready" in words:
                return None
            if process.poll() is not None:
                break
        return "never ready; it said: %s" % words.decode()

    def end_section(self):
        for process, said in self.running:
            if process.poll() is None:
                os.killpg(process.pid, signal.SIGINT)
                try:
                    process.wait(5)
                except subprocess.TimeoutExpired:
                    os.killpg(process.pid, signal.SIGKILL)
            said.close()
        self.running = []


def play_page(path, source_root, build_root):
    """(how many blocks ran, complaints)"""
    complaints, ran, section = [], 0, ""
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as private:
        page = Page(path, folder, source_root, build_root)
        page.environment["XDG_RUNTIME_DIR"] = private  # so that `hand` finds no other session
        for block in blocks_of(path):
            if block.section != section:
                page.end_section()
                section = block.section
            wrong = page.do(block)
            ran += block.order in ("", "leave running") and block.language == "sh"
            if wrong:
                complaints.append("%s:%d: %s" % (os.path.basename(path), block.line, wrong))
        page.end_section()
    return ran, complaints
