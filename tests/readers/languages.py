# The readers' test program in each language, ready to run; C# is compiled on the spot, so that the
# build needs no C# compiler.
import os
import shutil
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
CSHARP_READER = os.path.join(ROOT, "protocol/readers/PanelReader.cs")


def compile_csharp(out, *sources):
    """A command that runs the program made of C# sources; warnings are errors."""
    if not shutil.which("mcs") or not shutil.which("mono"):
        sys.exit("no C# compiler: install mono-mcs, mono-runtime and libmono-system4.0-cil")
    subprocess.run(["mcs", "-warn:4", "-warnaserror", "-out:" + out, *sources], check=True)
    return ["mono", out]


def reader_programs(cpp_program, folder):
    """What to run for each language; `folder` is where the C# program may be put."""
    return {"C++": [cpp_program],
            "Python": [sys.executable, "-B", os.path.join(HERE, "probe.py")],
            "C#": compile_csharp(os.path.join(folder, "Probe.exe"), os.path.join(HERE, "Probe.cs"),
                                 CSHARP_READER)}
