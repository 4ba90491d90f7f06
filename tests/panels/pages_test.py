# The pages of the panels under scenarios/: the commands on them do what they say.
import os
import sys

ROOT, BUILD = os.environ["UNDERSTUDY_SOURCE_ROOT"], os.environ["UNDERSTUDY_BUILD_ROOT"]
sys.path.insert(0, os.path.join(ROOT, "tests/docs"))
from page_runner import play_page

# Each with the least number of blocks that must have run, lest it silently runs none.
PAGES = {"quiz": 6, "telescope": 2, "greenhouse": 5, "organ": 4}


def main():
    complaints = []
    for name, least in PAGES.items():
        page = os.path.join(ROOT, "scenarios", name, "README.md")
        ran, wrong = play_page(page, ROOT, BUILD)
        print("%s: %d blocks ran, %d failed" % (name, ran, len(wrong)))
        complaints += ["%s: %s" % (name, words) for words in wrong]
        if ran < least:
            complaints.append("%s: only %d blocks ran" % (name, ran))
    print("\n".join(complaints))
    return 1 if complaints else 0


sys.exit(main())
