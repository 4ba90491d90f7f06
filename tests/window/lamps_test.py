# What a game sends is seen: the glow of a lamp on the screen grows with its number, and an unlit
# one is dark glass. The order of lightness is from outside: CIE 1976 L* grows with luminance (CIE
# 15).
import sys
import time

from stage import Display, Stage, wait_until

NUMBERS = [0, 16, 64, 128, 255]


def main():
    display = Display()
    stage = Stage(display)
    game = stage.game()
    wait_until("lines at the port", 10, game.numbers)
    box = stage.box("parts", "signal_green")
    dark = None
    seen = []
    for number in NUMBERS:
        game.send(f"0,0,{number},0,0,0")
        time.sleep(0.5)
        picture = display.picture()
        seen.append(picture.mean_luminance(box))
        dark = dark or picture
    print("mean luminance of the green signal at", NUMBERS, [round(value, 4) for value in seen])
    for less, more in zip(seen, seen[1:]):
        assert more > less * 1.02, seen
    assert seen[-1] > 1.8 * seen[0], seen
    red = stage.box("parts", "signal_red")
    lit = display.picture()
    assert lit.differs(dark, red) == 0, "the red lens changed, which nobody lit"
    game.send("0,0,0,0,0,0")
    time.sleep(0.6)
    assert abs(display.picture().mean_luminance(box) - seen[0]) < 0.01
    game.close()
    return stage.end() not in (0, 130)


sys.exit(main())
