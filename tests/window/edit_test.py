# Editing a panel in the window: a part dragged and renamed while the game's port goes on, saved
# into the same file with everything else as it was, and undone again.
import difflib
import os
import shutil
import sys
import time

from stage import TRAM, Display, Stage, wait_until


def text_of(path):
    with open(path, encoding="utf-8") as file:
        return file.read()


def changed_lines(before, after):
    """Lines that went and lines that came, without a look at where."""
    seen = list(difflib.ndiff(before.splitlines(), after.splitlines()))
    return ([line[2:] for line in seen if line.startswith("- ")],
            [line[2:] for line in seen if line.startswith("+ ")])


def press(stage, name, kind="buttons"):
    at = stage.middle(kind, name)
    time.sleep(0.2)
    while stage.middle(kind, name) != at:  # a popup finds its size over some frames
        at = stage.middle(kind, name)
        time.sleep(0.2)
    stage.display.click(at)


def tap(stage, key, *held):
    """Keys stay down for longer than a frame, as fingers are slow."""
    for name in (*held, key):
        stage.display.do("keydown", name)
    time.sleep(0.08)
    for name in (key, *held):
        stage.display.do("keyup", name)
    time.sleep(0.05)


def write(stage, field, words):
    """Types over what stands in a field."""
    press(stage, field, "fields")
    time.sleep(0.2)
    tap(stage, "a", "ctrl")
    stage.display.do("type", "--delay", "60", words)
    tap(stage, "Return")


def not_saved(stage):
    return "not saved" in stage.places().get("texts", {})


def a_dragged_part_snaps_to_whole_millimetres(stage, path, text):
    left, _, right, _ = stage.box("face", "face")
    pixels_per_mm = (right - left) / 260  # face.width_mm of the tram desk
    middle = stage.middle("parts", "bell")
    # 10.3 mm and 5.2 mm away: a grid of one millimetre makes 10 and 5 of it.
    stage.display.drag(middle, (middle[0] + 10.3 * pixels_per_mm, middle[1] + 5.2 * pixels_per_mm))
    wait_until("it to be said that this is not saved", 5, lambda: not_saved(stage))

    def away():
        moved = stage.middle("parts", "bell")
        return [(moved[i] - middle[i]) / pixels_per_mm for i in (0, 1)]

    wait_until("it to lie 10 mm and 5 mm away", 3,
               lambda: abs(away()[0] - 10) < 0.4 and abs(away()[1] - 5) < 0.4)
    assert text_of(path) == text, "written before it was saved"


def a_new_name_is_on_the_face_and_in_the_lines(stage, path, text):
    write(stage, "control.name", "gong")
    wait_until("the new name on the face", 5, lambda: "gong" in stage.places()["parts"])
    assert "bell" not in stage.places()["parts"]
    wait_until("its field", 5, lambda: "line 1 {gong}" in stage.places()["buttons"])
    assert text_of(path) == text, "written before it was saved"


def hands_do_not_reach_the_controls_meanwhile(stage, game):
    before = game.numbers()
    left, top, right, _ = stage.box("parts", "power")
    stage.display.click(((left + right) / 2, top + 12))
    stage.display.do("keydown", "w")
    time.sleep(0.5)
    stage.display.do("keyup", "w")
    game.read(0.3)
    assert game.numbers() == before, (before, game.numbers())


def saving_changes_the_lines_that_were_meant(stage, game, path, text):
    game.read(0.1)
    seen = len(game.lines)
    press(stage, "Save")
    wait_until("the file", 5, lambda: text_of(path) != text)
    went, came = changed_lines(text, text_of(path))
    # The bell of the tram desk stands at [135, 70] with a comment behind its name, which keeps its
    # column.
    assert went == [
        'name = "bell"                        # rings for as long as it is held',
        "at_mm = [135, 70]",
        'text = "{power},{heater},{bell},{doors},{sander}"',
    ], went
    assert came == [
        'name = "gong"                        # rings for as long as it is held',
        "at_mm = [145, 75]",
        'text = "{power},{heater},{gong},{doors},{sander}"',
    ], came
    wait_until("the mark to go", 5, lambda: not not_saved(stage))
    wait_until("lines of five numbers", 6, lambda: len(game.read(0.1)) > 0 and
               len(game.numbers() or ()) == 5)
    assert len(game.lines) > seen and stage.running()


def undo_brings_the_old_text_back(stage, path, text):
    saved = text_of(path)
    press(stage, "Undo")
    wait_until("the old name", 5, lambda: "bell" in stage.places()["parts"])
    press(stage, "Undo")
    wait_until("the mark", 5, lambda: not_saved(stage))
    assert text_of(path) == saved, "an undone edit was written unasked"
    time.sleep(0.3)
    press(stage, "Save")
    wait_until("the old file, byte for byte", 5, lambda: text_of(path) == text)


def a_control_is_added_and_taken_out(stage, path, text):
    press(stage, "Add...")
    press(stage, "switch", "choices")
    wait_until("a switch on the face", 5, lambda: "switch" in stage.places()["parts"])
    wait_until("its field", 5, lambda: "line 1 {switch}" in stage.places()["buttons"])
    press(stage, "Remove")
    wait_until("it to be gone", 5, lambda: "switch" not in stage.places()["parts"])
    wait_until("nothing to be left of it", 5, lambda: not not_saved(stage))
    assert text_of(path) == text


def edits_are_not_lost_where_the_file_changed(stage, path, text):
    stage.display.click(stage.middle("parts", "bell"))
    time.sleep(0.3)
    write(stage, "control.name", "gong")
    wait_until("the edit", 5, lambda: not_saved(stage))
    theirs = text + "# theirs\n"
    with open(path, "w", encoding="utf-8") as file:
        file.write(theirs)
    wait_until("the question", 5, lambda: "Save over it" in stage.places()["buttons"])
    assert text_of(path) == theirs
    press(stage, "Discard the edits")
    wait_until("their file", 5, lambda: not not_saved(stage) and "bell" in stage.places()["parts"])
    assert text_of(path) == theirs


def unsaved_edits_are_asked_for_when_editing_ends(stage, path):
    before = text_of(path)
    stage.display.click(stage.middle("parts", "bell"))
    time.sleep(0.3)
    write(stage, "control.name", "gong")
    wait_until("the edit", 5, lambda: not_saved(stage))
    press(stage, "Edit")
    wait_until("the question", 5, lambda: "Go on editing" in stage.places()["buttons"])
    press(stage, "Discard the edits")
    wait_until("the editor to be closed", 5, lambda: "edit" not in stage.places()["cards"])
    assert "bell" in stage.places()["parts"] and text_of(path) == before


def main():
    display = Display()
    folder = os.path.join("/tmp", f"understudy-edit-{os.getpid()}")
    try:
        shutil.copytree(os.path.dirname(TRAM), folder, ignore=shutil.ignore_patterns("game"))
        path = os.path.join(folder, os.path.basename(TRAM))
        text = text_of(path)
        stage = Stage(display, panel=path)
        game = stage.game()
        wait_until("lines at the port", 10, game.numbers)
        press(stage, "Edit")
        wait_until("the editor's card", 5, lambda: "edit" in stage.places().get("cards", {}))
        time.sleep(0.3)
        a_dragged_part_snaps_to_whole_millimetres(stage, path, text)
        a_new_name_is_on_the_face_and_in_the_lines(stage, path, text)
        hands_do_not_reach_the_controls_meanwhile(stage, game)
        saving_changes_the_lines_that_were_meant(stage, game, path, text)
        undo_brings_the_old_text_back(stage, path, text)
        a_control_is_added_and_taken_out(stage, path, text)
        edits_are_not_lost_where_the_file_changed(stage, path, text)
        unsaved_edits_are_asked_for_when_editing_ends(stage, path)
        game.read(0.1)
        seen = len(game.lines)
        assert len(game.read(1)) > 20, game.lines[seen:]
        game.close()
        return stage.end() not in (0, 130)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


sys.exit(main())
