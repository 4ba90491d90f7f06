# Holds the tree to the rules of DEVELOPERS.md: one line for each breach, as file:line: text.
# By hand: python3 tests/lint/lint_test.py
import os
import pathlib
import sys

import function_rules
import line_rules
import sources
import tree_rules


def complaints_about(files):
    """Every complaint about `files` (Sources that make up a whole tree), sorted, as text."""
    found = []
    for source in files:
        for rules in (line_rules, function_rules):
            found += [(source.path, line, text) for line, text in rules.complaints_of(source)]
    found += list(tree_rules.complaints_of(files))
    return [f"{path}:{line}: {text}" for path, line, text in sorted(set(found))]


def main():
    here = pathlib.Path(__file__).resolve()
    root = os.environ.get("UNDERSTUDY_SOURCE_ROOT", here.parents[2])
    files = sources.read_tree(root)
    if len(files) < 20:
        print(f"lint: only {len(files)} files below {root}: looking at the wrong place")
        return 1
    complaints = complaints_about(files)
    for complaint in complaints:
        print(complaint)
    print(f"lint: {len(files)} files, {len(complaints)} complaints")
    return 1 if complaints else 0


if __name__ == "__main__":
    sys.exit(main())
