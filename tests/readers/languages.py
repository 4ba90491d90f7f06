# The readers' test program in each language, ready to run; C# is compiled on the spot, so that the
# build needs no C# compiler. And a locale that writes a comma where programs expect a point.
import os
import shutil
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
CSHARP_READER = os.path.join(ROOT, "protocol/readers/PanelReader.cs")
OWN = "> "  # how the GDScript probe marks its words among those of its runtime


def need(program, packages):
    if not shutil.which(program):
        sys.exit("no %s: install %s" % (program, packages))
    return program


def compile_csharp(out, *sources):
    """A command that runs the program made of C# sources; warnings are errors."""
    for program in ("mcs", "mono"):
        need(program, "mono-mcs, mono-runtime and libmono-system4.0-cil")
    subprocess.run(["mcs", "-warn:4", "-warnaserror", "-out:" + out, *sources], check=True)
    return ["mono", out]


def reader_programs(cpp_program, folder):
    """What to run for each language; `folder` is where the C# program may be put."""
    probe = lambda suffix: os.path.join(HERE, "probe." + suffix)
    return {"C++": [cpp_program],
            "Python": [sys.executable, "-B", probe("py")],
            "C#": compile_csharp(os.path.join(folder, "Probe.exe"), os.path.join(HERE, "Probe.cs"),
                                 CSHARP_READER),
            "GDScript": [need("godot3-server", "godot3-server"), "--no-window", "-s", probe("gd"),
                         "--words"],
            "Lua": [need("lua5.4", "lua5.4 and lua-socket"), probe("lua")],
            "JavaScript": [need("node", "nodejs"), "--expose-gc", probe("cjs")]}


def own_words(language, line):
    """A line as its probe meant it, or None for a word of the runtime."""
    if language != "GDScript":
        return line
    return line[len(OWN):] if line.startswith(OWN) else None


def run_probe(language, command, words, environment=None):
    """The lines that a probe says until it ends."""
    done = subprocess.run(command + words, capture_output=True, timeout=300, env=environment)
    if done.returncode != 0 or b"SCRIPT ERROR" in done.stderr:
        sys.exit("%s: %s" % (language, done.stderr.decode(errors="replace")[:2000]))
    lines = [own_words(language, line) for line in done.stdout.decode().splitlines()]
    return [line for line in lines if line is not None]


def comma_locale(folder):
    """An environment of a locale with decimal commas, made on the spot: few machines carry one.
    It bears a real name, by which runtimes with tables of their own know what is meant."""
    source = os.path.join(folder, "commas")
    with open(source, "w", encoding="ascii") as file:
        file.write('LC_NUMERIC\ndecimal_point ","\nthousands_sep "."\ngrouping 3\nEND LC_NUMERIC\n'
                   'LC_CTYPE\ncopy "POSIX"\nEND LC_CTYPE\n')
    name = os.path.join(folder, "sv_SE")
    # It warns of the categories that are left out, and says so by its status.
    subprocess.run([need("localedef", "libc-bin"), "-c", "-i", source, "-f", "ANSI_X3.4-1968",
                    name], capture_output=True)
    return {**os.environ, "LOCPATH": folder, "LC_ALL": "sv_SE"}
