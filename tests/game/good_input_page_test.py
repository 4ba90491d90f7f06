# docs/good-input-code.md: what it tells people to type works, and the code that it shows is the
# code of the game, line for line.
import os
import sys

ROOT, BUILD = os.environ["UNDERSTUDY_SOURCE_ROOT"], os.environ["UNDERSTUDY_BUILD_ROOT"]
sys.path.insert(0, os.path.join(ROOT, "tests/docs"))

from page_runner import blocks_of, play_page  # noqa: E402

PAGE = os.path.join(ROOT, "docs/good-input-code.md")
CODE = os.path.join(ROOT, "scenarios/tram/game/input/careful_panel.cpp")
# The least that must have been found, lest an empty page passes.
EXCERPTS, COMMANDS = 11, 15


def lines_of(text):
    return [line.strip() for line in text.split("\n") if line.strip()]


def stands_in(excerpt, source):
    count = len(excerpt)
    return any(source[at:at + count] == excerpt for at in range(len(source) - count + 1))


def main():
    with open(CODE, encoding="utf-8") as file:
        source = lines_of(file.read())
    assert not stands_in(["no such line"], source)
    excerpts = [block for block in blocks_of(PAGE) if block.language == "cpp"]
    complaints = ["good-input-code.md:%d: not in careful_panel.cpp any more" % block.line
                  for block in excerpts if not stands_in(lines_of(block.text), source)]
    ran, wrong = play_page(PAGE, ROOT, BUILD)
    complaints += wrong
    print("%d excerpts, %d commands" % (len(excerpts), ran))
    if len(excerpts) < EXCERPTS or ran < COMMANDS:
        complaints.append("too few of them")
    print("\n".join(complaints))
    return 1 if complaints else 0


sys.exit(main())
