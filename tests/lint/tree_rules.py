# Rules that need the whole tree: which folder may depend on which, sources that no build names,
# fuzz corpora, links between documents, and what may stand at the top.
import posixpath
import re

TOP_FILES = {"CMakeLists.txt", "README.md", "DEVELOPERS.md"}
TOP_FOLDERS = {"protocol", "sim", "tests", "scenarios", "docs"}
# The stages carry bytes from one to the next through `device` and never see each other.
STAGES = {"controls", "board", "manners", "wire"}
# The observer must hold on a tap too, so it can't know the virtual box.
NOT_FOR_OBSERVE = STAGES | {"device", "faults"}


def layers_of(files):
    """The folders of sim/ in the order of the top CMakeLists.txt, lowest first."""
    match = re.search(r"set\(UNDERSTUDY_LAYERS ([^)]*)\)", files["CMakeLists.txt"].text)
    return match.group(1).split()


def libraries_of(source):
    """(name, depends, line) of each understudy_library in a CMakeLists.txt."""
    for match in re.finditer(r"understudy_library\(\s*(\w+)([^)]*)\)", source.bare):
        words = match.group(2).split()
        depends = []
        taking = False
        for word in words:
            if word in ("SOURCES", "DEPENDS", "EXTERNAL"):
                taking = word == "DEPENDS"
            elif taking:
                depends.append(word)
        yield match.group(1), depends, source.bare.count("\n", 0, match.start()) + 1


def _dependency_complaint(name, depend, layers):
    if depend not in layers:
        return None if depend == "protocol" else f"{name} depends on {depend}, which is no layer"
    if name == "protocol" or layers.index(depend) >= layers.index(name):
        return f"{name} may not depend on {depend}: it stands above"
    if name in STAGES and depend in STAGES:
        return f"{name} may not depend on {depend}: stages never see each other"
    if name == "observe" and depend in NOT_FOR_OBSERVE:
        return f"observe may not depend on {depend}: it must hold on a tap too"
    return None


def dependency_complaints(files):
    layers = layers_of(files)
    for path, source in files.items():
        if source.name != "CMakeLists.txt" or not source.is_under("sim", "protocol"):
            continue
        for name, depends, line in libraries_of(source):
            if name not in layers and name != "protocol":
                continue
            for depend in depends:
                said = _dependency_complaint(name, depend, layers)
                if said:
                    yield (path, line, said)


def include_complaints(files):
    """The same direction, seen from the includes: a library reached through another counts too."""
    layers = layers_of(files)
    for path, source in files.items():
        here = re.match(r"sim/(\w+)/", path)
        if not here or here.group(1) not in layers or not source.is_braced:
            continue
        for match in re.finditer(r'#\s*include\s*"sim/(\w+)/', source.bare):
            there = match.group(1)
            if there == here.group(1):
                continue
            said = _dependency_complaint(here.group(1), there, layers)
            if said:
                yield (path, source.bare.count("\n", 0, match.start()) + 1, said)


def unbuilt_complaints(files):
    """A .cpp that no CMakeLists.txt at or above it names is dead."""
    for path, source in files.items():
        if source.suffix not in (".cpp", ".c"):
            continue
        folder = posixpath.dirname(path)
        named = False
        while folder and not named:
            lists = files.get(folder + "/CMakeLists.txt")
            named = lists is not None and re.search(
                r"(?<![\w.-])" + re.escape(source.name) + r"(?![\w.-])", lists.bare) is not None
            folder = posixpath.dirname(folder)
        if not named:
            yield (path, 1, "no CMakeLists.txt builds it")


def corpus_complaints(files):
    """Every corpus has a fuzz target (one without a corpus fails its own smoke run)."""
    lists = files.get("tests/fuzz/CMakeLists.txt")
    if lists is None:
        return
    targets = set(re.findall(r"understudy_fuzz\(\s*NAME\s+(\w+)", lists.bare)) | {"canary"}
    for path in files:
        if path.startswith("tests/fuzz/corpus/") and path.split("/")[3] not in targets:
            yield (path, 1, "a corpus without a fuzz target")


def link_complaints(files):
    """A relative link of a document leads to a file or folder that is there."""
    folders = {posixpath.dirname(p) for p in files}
    for path, source in files.items():
        if source.suffix != ".md":
            continue
        for match in re.finditer(r"\]\(([^)\s#]+)(#[^)]*)?\)", source.text):
            target = match.group(1)
            if re.match(r"[a-z]+:", target):
                continue
            goal = posixpath.normpath(posixpath.join(posixpath.dirname(path), target))
            if goal in files or any(f == goal or f.startswith(goal + "/") for f in folders):
                continue
            if re.search(r"\.(png|svg|jpg|gif|zst)$", goal):
                continue  # not text, so not among the files that are read here
            yield (path, source.text.count("\n", 0, match.start()) + 1,
                   f"links to {target}, which is not there")


def top_complaints(files):
    for path in files:
        top = path.split("/")[0]
        if top.startswith(".") or top in TOP_FOLDERS or path in TOP_FILES:
            continue
        yield (path, 1, "the top holds " + ", ".join(sorted(TOP_FILES | TOP_FOLDERS))
               + " and dot-files, nothing else")


RULES = [dependency_complaints, include_complaints, unbuilt_complaints, corpus_complaints,
         link_complaints, top_complaints]


def complaints_of(sources):
    """All (path, line, text) about the tree as a whole."""
    files = {source.path: source for source in sources}
    for rule in RULES:
        yield from rule(files)
