# Hands at the window reach a game at the port: a slide dragged, a button held by mouse and by key,
# the wheel, the keyboard alone, and all of it while the game is another program.
import sys
import time

from stage import hold_to, wait_until

POWER, HEATER, BELL, DOORS, SANDER = range(5)  # fields of the tram's line


def newest(game, field):
    numbers = game.numbers()
    return numbers[field] if numbers else None


def a_dragged_slide_takes_its_counts_with_it(stage, game):
    left, top, right, bottom = stage.box("parts", "power")
    middle = (left + right) / 2, (top + bottom) / 2
    before = wait_until("a first line", 5, game.numbers)[POWER]
    stage.display.drag(stage.middle("handles", "power"), (middle[0], top - 40))
    high = wait_until("power at its high end", 3, lambda: newest(game, POWER) > 1000 and
                      newest(game, POWER))
    stage.display.drag(stage.middle("handles", "power"), (middle[0], bottom + 40))
    low = wait_until("power at its low end", 3, lambda: newest(game, POWER) < 20 and [True])
    assert low and high > 1000, (before, high)


def the_counts_follow_every_part_of_a_drag(stage, game):
    left, top, right, bottom = stage.box("parts", "power")
    game.read()
    seen = len(game.lines)
    stage.display.drag(stage.middle("handles", "power"), ((left + right) / 2, top - 40), steps=40)
    game.read(0.3)
    course = [int(line.split(",")[POWER]) for line in game.lines[seen:] if line.count(",") == 4]
    between = [count for count in course if 100 < count < 900]
    assert len(between) > 10, course  # not a jump from one end to the other


def a_button_is_down_while_the_mouse_holds_it(stage, game):
    up = wait_until("a line", 3, game.numbers)[BELL]
    stage.display.do("mousemove", *map(round, stage.middle("parts", "bell")))
    time.sleep(0.15)
    stage.display.do("mousedown", 1)
    wait_until("the bell down", 2, lambda: newest(game, BELL) == 1)
    time.sleep(0.3)
    assert newest(game, BELL) == 1 and up == 0
    stage.display.do("mouseup", 1)
    wait_until("the bell up", 2, lambda: newest(game, BELL) == 0)


def a_key_of_the_panel_file_holds_its_button(stage, game):
    stage.display.do("keydown", "b")
    wait_until("the bell down by its key", 2, lambda: newest(game, BELL) == 1)
    time.sleep(0.7)  # longer than a keyboard takes to repeat
    game.read()
    assert newest(game, BELL) == 1
    stage.display.do("keyup", "b")
    wait_until("the bell up", 2, lambda: newest(game, BELL) == 0)


def a_held_key_moves_a_slide_steadily(stage, game):
    start = newest(game, POWER)
    stage.display.do("keydown", "s")
    wait_until("power low by its key", 4, lambda: newest(game, POWER) < 20)
    stage.display.do("keyup", "s")
    stage.display.do("keydown", "w")
    time.sleep(0.4)
    stage.display.do("keyup", "w")
    time.sleep(0.3)
    rested = newest(game, POWER)
    assert 60 < rested < 1000, (start, rested)
    time.sleep(0.4)
    assert abs(newest(game, POWER) - rested) < 8, "it went on after the key was let go"


def the_wheel_moves_what_is_under_it(stage, game):
    stage.display.do("mousemove", *map(round, stage.middle("parts", "heater")))
    time.sleep(0.15)
    before = newest(game, HEATER)
    button = 4 if before < 512 else 5
    for _ in range(5):
        stage.display.do("click", button)
        time.sleep(0.05)
    wait_until("the heater turned", 2, lambda: abs(newest(game, HEATER) - before) > 30)


def the_keyboard_alone_reaches_a_control(stage, game):
    """Tab walks over the controls; what has the focus answers to End and Home."""
    reached = False
    for _ in range(12):
        stage.display.do("key", "Tab")
        time.sleep(0.12)
        stage.display.do("key", "End")
        time.sleep(0.25)
        high = newest(game, POWER) > 1000
        stage.display.do("key", "Home")
        time.sleep(0.25)
        if high and newest(game, POWER) < 20:
            reached = True
            break
    assert reached, game.lines[-1]


CLAIMS = [
    a_dragged_slide_takes_its_counts_with_it,
    the_counts_follow_every_part_of_a_drag,
    a_button_is_down_while_the_mouse_holds_it,
    a_key_of_the_panel_file_holds_its_button,
    a_held_key_moves_a_slide_steadily,
    the_wheel_moves_what_is_under_it,
    the_keyboard_alone_reaches_a_control,
]

sys.exit(hold_to(CLAIMS))
