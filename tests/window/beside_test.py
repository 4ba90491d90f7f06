# Beside a game: the game after -- is started, shown, ended and started again; while another window
# has the keyboard, the mouse, `understudy hand` and the lamps go on; without a display there is a
# word.
import os
import subprocess
import sys
import tempfile
import time

from stage import PROGRAM, TRAM, Display, Stage, wait_until

GAME = """
import os, sys, time
print("a game began", flush=True)
port = os.open(os.environ["UNDERSTUDY_PORT"], os.O_RDWR | os.O_NOCTTY)
while True:
    os.read(port, 4096)
"""


def a_game_is_started_again(stage):
    wait_until("the game's output", 10, lambda: "game" in stage.places().get("cards", {}))
    first = wait_until("the game's process", 5, lambda: children_of(stage))
    stage.display.click(stage.middle("buttons", "Restart"))
    wait_until("another process", 6, lambda: children_of(stage) and children_of(stage) != first)
    stage.display.click(stage.middle("buttons", "Stop"))
    wait_until("no process", 6, lambda: not children_of(stage))
    assert stage.running(), "the window ended with its game"
    stage.display.click(stage.middle("buttons", "Start"))
    wait_until("a process once more", 6, lambda: children_of(stage))


def children_of(stage):
    found = subprocess.run(["pgrep", "-P", str(stage.program.pid)], capture_output=True, text=True,
                           check=False)
    return found.stdout.split()


def it_plays_while_another_window_has_the_keyboard(display):
    stage = Stage(display)
    game = stage.game()
    wait_until("lines", 10, game.numbers)
    other = subprocess.Popen(["xev", "-geometry", "150x100+0+0"], stdout=subprocess.DEVNULL,
                             env=dict(os.environ, DISPLAY=display.name))
    try:
        window = wait_until("the other window", 5, lambda: display.windows("Event Tester"))[0]
        display.do("windowfocus", window)
        time.sleep(0.2)
        display.do("keydown", "b")
        time.sleep(0.4)
        assert game.numbers()[2] == 0, "a key that was meant for the other window rang the bell"
        display.do("keyup", "b")
        said = subprocess.run([PROGRAM, "hand", "bell down"], capture_output=True, text=True,
                              env=dict(os.environ, XDG_RUNTIME_DIR=stage.home, HOME=stage.home),
                              check=False)
        assert said.returncode == 0, said.stderr
        wait_until("the bell down", 2, lambda: game.numbers()[2] == 1)
        display.do("mousemove", *map(round, stage.middle("parts", "heater")))
        time.sleep(0.2)
        before = game.numbers()[1]
        for _ in range(5):
            display.do("click", 4 if before < 512 else 5)
        wait_until("the heater", 2, lambda: abs(game.numbers()[1] - before) > 30)
    finally:
        other.kill()
        other.wait()
    game.close()
    stage.end()


def without_a_display_it_says_what_to_do():
    environment = {name: value for name, value in os.environ.items()
                   if name not in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")}
    told = subprocess.run([PROGRAM, "panel", TRAM], env=environment, capture_output=True, text=True,
                          timeout=20, check=False)
    assert told.returncode == 3, told
    assert "serve" in told.stderr and told.stdout == "", told


def main():
    without_a_display_it_says_what_to_do()
    print("ok: without_a_display_it_says_what_to_do")
    display = Display(1900, 1200)
    it_plays_while_another_window_has_the_keyboard(display)
    print("ok: it_plays_while_another_window_has_the_keyboard")
    with tempfile.NamedTemporaryFile("w", suffix=".py") as program:
        program.write(GAME)
        program.flush()
        stage = Stage(display, arguments=["--size", "1900x1180"],
                      game=[sys.executable, program.name])
        a_game_is_started_again(stage)
        stage.end()
        wait_until("the game gone with the window", 5, lambda: not children_of(stage))
    print("ok: a_game_is_started_again")
    return 0


sys.exit(main())
