# What the guide tells people to type works, page by page; and the runner sees what does not.
import os
import sys
import tempfile

from page_runner import play_page

SOURCE_ROOT, BUILD_ROOT = os.environ["UNDERSTUDY_SOURCE_ROOT"], os.environ["UNDERSTUDY_BUILD_ROOT"]
# Each page with the least number of blocks it must have run, lest it silently runs none.
PAGES = {"docs/first-half-hour.md": 14}

BAD_PAGE = """
## One
<!-- test: save as kept.txt -->
```text
word
```
```sh
grep -q word kept.txt
```
```sh
false | true
cd /nowhere-at-all
echo not reached
```
<!-- test: leave running -->
```sh
echo never says it
```
## Two
<!-- test: sing -->
```sh
true
```
"""


def the_runner_sees_failures():
    with tempfile.NamedTemporaryFile("w", suffix=".md") as page:
        page.write(BAD_PAGE)
        page.flush()
        ran, complaints = play_page(page.name, SOURCE_ROOT, BUILD_ROOT)
    lines = [int(complaint.split(":")[1]) for complaint in complaints]
    return ran == 3 and lines == [10, 16, 21]


def main():
    complaints = [] if the_runner_sees_failures() else ["the page runner overlooks failures"]
    for page, least in PAGES.items():
        ran, wrong = play_page(os.path.join(SOURCE_ROOT, page), SOURCE_ROOT, BUILD_ROOT)
        print("%s: %d blocks ran, %d failed" % (page, ran, len(wrong)))
        complaints += wrong
        if ran < least:
            complaints.append("%s: only %d blocks ran" % (page, ran))
    print("\n".join(complaints))
    return 1 if complaints else 0


sys.exit(main())
