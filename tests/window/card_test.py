# The card of a part at the window, opened by the right button and by the Menu key: its wedge keeps
# a button down, a gesture is recorded and repeated, also while the window is iconified; all of it
# is read at the port.
import sys
import time

from stage import hold_to, wait_until

BELL = 2  # field of the tram's line


def bell(game):
    numbers = game.numbers()
    return numbers[BELL] if numbers else None


def has_card(stage):
    return "part" in stage.places().get("cards", {})


def open_card(stage, part):
    stage.display.click(stage.middle("parts", part), button=3)
    wait_until(f"the card of {part}", 3, lambda: has_card(stage))
    time.sleep(0.5)  # it comes to rest


def press(stage, label):
    stage.display.click(stage.middle("buttons", label))


def close_card(stage):
    stage.display.do("key", "Escape")
    wait_until("the card to go", 3, lambda: not has_card(stage))


def the_card_lies_beside_its_part_and_within_the_window(stage, _):
    for part in ("power", "bell", "sander", "timetable"):
        open_card(stage, part)
        left, top, right, bottom = stage.box("cards", "part")
        window = stage.box("window", "window")
        body = stage.box("parts", part)
        assert left >= window[0] and top >= window[1], (part, left, top)
        assert right <= window[2] and bottom <= window[3], (part, right, bottom)
        assert left >= body[2] or right <= body[0], f"{part} is covered by its card"
        close_card(stage)


def a_wedge_keeps_the_bell_down_until_it_is_taken_away(stage, game):
    box = stage.box("parts", "bell")
    before = stage.display.picture()
    open_card(stage, "bell")
    press(stage, "A wedge keeps it down")
    wait_until("the bell down", 2, lambda: bell(game) == 1)
    close_card(stage)
    time.sleep(0.6)
    assert bell(game) == 1, "it stays down with the card closed"
    assert stage.display.picture().differs(before, box) > 50, "the face shows nothing of it"
    stage.display.click(stage.middle("parts", "bell"))  # a hand comes and goes
    time.sleep(0.4)
    assert bell(game) == 1, "the hand that let go took the wedge with it"
    open_card(stage, "bell")
    press(stage, "A wedge keeps it down")
    wait_until("the bell up", 2, lambda: bell(game) == 0)
    close_card(stage)


def the_menu_key_opens_the_card_of_what_has_the_focus(stage, _):
    stage.display.do("key", "Tab")
    time.sleep(0.2)
    stage.display.do("key", "Menu")
    wait_until("a card", 2, lambda: has_card(stage))
    close_card(stage)


def rings(game, seconds):
    """When the bell went down, in seconds from now."""
    begin = time.monotonic()
    game.read()
    was = bell(game)
    found = []
    while time.monotonic() < begin + seconds:
        game.read(0.02)
        now = bell(game)
        if now == 1 and was == 0:
            found.append(time.monotonic() - begin)
        was = now
    return found


def a_recorded_gesture_is_repeated_while_the_window_is_iconified(stage, game):
    open_card(stage, "bell")
    press(stage, "Record a gesture")
    wait_until("the card to go", 3, lambda: not has_card(stage))
    time.sleep(0.2)
    stage.display.click(stage.middle("parts", "bell"))
    time.sleep(0.3)
    open_card(stage, "bell")
    press(stage, "Done")
    time.sleep(0.3)
    x, y = stage.middle("fields", "seconds")
    stage.display.do("mousemove", round(x - 30), round(y))
    time.sleep(0.1)
    stage.display.do("click", "--repeat", "2", "--delay", "60", "1")
    stage.display.do("key", "ctrl+a")
    stage.display.do("type", "1.0")
    stage.display.do("key", "Return")
    time.sleep(0.2)
    press(stage, "Every")
    shown = rings(game, 4.2)
    assert 3 <= len(shown) <= 5, shown
    close_card(stage)
    window = stage.display.windows("Tram desk")[0]
    stage.display.do("windowunmap", window)
    time.sleep(2.0)  # longer than what was handed over ahead
    hidden = rings(game, 5.2)
    stage.display.do("windowmap", window)
    stage.display.do("windowfocus", window)  # no window manager gives the keys back here
    assert 4 <= len(hidden) <= 6, hidden
    gaps = [b - a for a, b in zip(hidden, hidden[1:])]
    assert all(abs(gap - 1.0) < 0.15 for gap in gaps), gaps
    time.sleep(0.5)
    open_card(stage, "bell")
    press(stage, "Stop repeating")
    time.sleep(2.0)
    assert not rings(game, 2.5), "it goes on after it was stopped"
    close_card(stage)


CLAIMS = [
    the_card_lies_beside_its_part_and_within_the_window,
    a_wedge_keeps_the_bell_down_until_it_is_taken_away,
    the_menu_key_opens_the_card_of_what_has_the_focus,
    a_recorded_gesture_is_repeated_while_the_window_is_iconified,
]

sys.exit(hold_to(CLAIMS))
