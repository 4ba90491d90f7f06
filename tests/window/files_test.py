# Panel files at the window: a file that is broken shows its mistake and the old panel goes on; once
# it is mended the new one plays; a file dropped onto the window opens. The game at the port stays
# connected.
import os
import shutil
import subprocess
import sys
import time

from stage import SOURCE, TRAM, Display, Stage, wait_until

DROP_FILE = sys.argv[1]


def replace(path, text):
    """As editors save: a new file under the old name."""
    with open(path + ".new", "w", encoding="utf-8") as file:
        file.write(text)
    os.rename(path + ".new", path)


def shows_card(stage):
    return "file" in stage.places().get("cards", {})


def a_mistake_leaves_the_old_panel_playing(stage, game, path, text):
    replace(path, text.replace('kind = "button"', 'kind = "buton"', 1))
    wait_until("the mistake to be shown", 4, lambda: shows_card(stage))
    seen = len(game.lines)
    assert len(game.read(0.5)) > 10, game.lines[seen:]
    replace(path, text)
    wait_until("the card to go", 4, lambda: not shows_card(stage))


def a_new_control_comes_with_the_file(stage, game, path, text):
    extra = '[[control]]\nname = "extra"\nkind = "button"\nsends = [0, 1]\n\n'
    more = text.replace("{power},{heater}", "{power},{extra},{heater}", 1).replace(
        "[[output]]", extra + "[[output]]", 1
    )
    replace(path, more)
    wait_until("the new control on the face", 5, lambda: "extra" in stage.places()["parts"])
    wait_until("lines of six numbers", 6, lambda: len(game.numbers() or ()) == 6)
    replace(path, text)
    wait_until("it to go again", 5, lambda: "extra" not in stage.places()["parts"])
    wait_until("lines of five numbers", 6, lambda: len(game.numbers() or ()) == 5)


def a_looks_only_change_does_not_restart_the_board(stage, game, path, text):
    before = stage.box("parts", "power")
    game.read(0.2)
    seen = len(game.lines)
    replace(path, text.replace("at_mm = [30, 72]", "at_mm = [36, 72]", 1))
    wait_until("the slide at another place", 4, lambda: stage.places()["parts"]["power"] != before)
    time.sleep(1.5)
    game.read()
    assert not [line for line in game.lines[seen:] if "tram-desk" in line], "the board said hello"
    assert len(game.lines) - seen > 40, game.lines[seen - 5:]
    replace(path, text)
    wait_until("the slide at its old place", 4, lambda: stage.places()["parts"]["power"] == before)


def a_dropped_file_opens(stage):
    x, y = map(round, stage.middle("parts", "power"))
    panel = os.path.join(SOURCE, "scenarios/telescope/telescope.panel.toml")
    environment = dict(os.environ, DISPLAY=stage.display.name)
    subprocess.run([DROP_FILE, str(x), str(y), panel], env=environment, check=True, timeout=10)
    wait_until("the other panel", 5, lambda: "power" not in stage.places()["parts"])


def main():
    display = Display()
    folder = os.path.join("/tmp", f"understudy-files-{os.getpid()}")
    os.makedirs(folder)
    try:
        path = os.path.join(folder, "desk.panel.toml")
        shutil.copy(TRAM, path)
        with open(path, encoding="utf-8") as file:
            text = file.read()
        shutil.copytree(os.path.dirname(TRAM), folder, dirs_exist_ok=True,
                        ignore=shutil.ignore_patterns("game"))
        stage = Stage(display, panel=path)
        game = stage.game()
        wait_until("lines at the port", 10, game.numbers)
        for claim in (a_mistake_leaves_the_old_panel_playing, a_new_control_comes_with_the_file,
                      a_looks_only_change_does_not_restart_the_board):
            claim(stage, game, path, text)
            print("ok:", claim.__name__)
        a_dropped_file_opens(stage)
        print("ok: a_dropped_file_opens")
        game.close()
        return stage.end() not in (0, 130)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


sys.exit(main())
