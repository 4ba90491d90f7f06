# Finds the project's files and gives their text to the rules: what is source, what is built or
# foreign, and C++ with its comments and strings blanked out.
import os
import pathlib
import re

CODE_SUFFIXES = {".cpp", ".h", ".hpp", ".c", ".cs", ".py", ".sh", ".lua", ".cmake", ".gd", ".cjs",
                 ".pl"}
BRACED_SUFFIXES = {".cpp", ".h", ".hpp", ".c", ".cs", ".cjs"}
CPP_SUFFIXES = {".cpp", ".h", ".hpp", ".c"}
# Scripts that people start have no suffix.
SCRIPTS = {"sim/start", "sim/dist", "tests/run", ".ci/run"}


class Source:
    """One file: its path from the top, its text, and the same with comments and strings blanked."""

    def __init__(self, path, text):
        self.path = path
        self.text = text
        self.suffix = pathlib.PurePosixPath(path).suffix
        self.name = pathlib.PurePosixPath(path).name

    @property
    def is_code(self):
        return (self.suffix in CODE_SUFFIXES or self.name == "CMakeLists.txt"
                or self.path in SCRIPTS)

    @property
    def is_braced(self):
        return self.suffix in BRACED_SUFFIXES

    @property
    def bare(self):
        """The text that the compiler acts on, with every line where it was."""
        if self.is_braced:
            return blank_braced(self.text)
        if self.is_code and self.suffix != ".lua":
            return re.sub(r"(?m)(^|\s)#.*$", "", self.text)
        return self.text

    def is_under(self, *folders):
        return any(self.path == f or self.path.startswith(f + "/") for f in folders)


# Comments, raw strings, strings and characters, in the order in which they may begin. A quote
# between digits parts thousands and begins nothing.
_BLANKED = re.compile(
    r'//[^\n]*|/\*.*?\*/|R"(?P<mark>[^(\s]{0,16})\(.*?\)(?P=mark)"'
    r'|"(?:\\.|[^"\\\n])*"|(?<![0-9a-fA-F])\'(?:\\.|[^\'\\\n])+\'', re.S)


def blank_braced(text):
    def blank(match):
        found = match.group(0)
        kept = "".join("\n" if c == "\n" else " " for c in found)
        # What an include names is no string to a reader of includes.
        line = text[text.rfind("\n", 0, match.start()) + 1:match.start()]
        if found.startswith('"') and re.match(r"\s*#\s*include\s*$", line):
            return found
        return kept
    return _BLANKED.sub(blank, text)


def read_tree(root):
    """Every text file below root that belongs to the project, as Sources; binary files are left
    out."""
    root = pathlib.Path(root)
    found = []
    for folder, names, files in os.walk(root):
        here = pathlib.Path(folder)
        top = here == root
        names[:] = sorted(n for n in names if n != "__pycache__" and not (
            top and ((n.startswith(".") and n != ".ci") or n.startswith("build"))))
        for name in sorted(files):
            path = (here / name).relative_to(root).as_posix()
            if path == "CMakeUserPresets.json" or (top and name.startswith(".git")):
                continue
            try:
                found.append(Source(path, (here / name).read_bytes().decode("utf-8")))
            except (UnicodeDecodeError, FileNotFoundError):
                continue
    return found
