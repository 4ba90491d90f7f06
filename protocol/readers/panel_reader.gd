# Panel reader for GDScript 3: one file to copy into a game that is played on a panel of buttons,
# pots and lamps. It speaks lines of integers ("512,300,1\n") over TCP, since GDScript opens no
# serial ports; other line shapes are left to the game. The same reader exists in C++, Python, C#,
# Lua and JavaScript.
# SPDX-License-Identifier: 0BSD  (use, change and pass on freely; no notice needed, no warranty)
#
#   var panel = PanelReader.new(5, "127.0.0.1:7000")  # 5 numbers a line; or no address: what
#   func _process(_delta):                            # UNDERSTUDY_TCP says
#       panel.poll()                           # once a frame; takes all lines, never waits
#       if panel.state() != "fresh": speed = 0          # "stale" or "silent": neutral
#       else: speed = panel.value(0) / 1023.0           # the newest value of the first field
#       for _n in panel.pressed(2): ring()              # a press between frames is not lost
#       panel.set_lamps([255, 255 if door_open else 0]) # sent on change and every 0.5 s
#   func _exit_tree(): panel.close()           # sends all lamps 0 and closes
#
# A pot, slide or stick as the game wants it; without these calls axis() is value / 1023:
#   panel.calibrate(0, 12, 1010)               # the numbers at its two ends; axis(0) is 0 to 1
#   panel.smooth(0)                            # calm at rest, quick in motion
#   speed = panel.axis(0)
class_name PanelReader

const LINE_MAX = 255
const READS_MAX = 16
const RETRY_S = 0.5
const REFRESH_S = 0.5
const WITNESS_S = 0.25

var stale_after_ms = 250  # a hung box keeps its connection open: stale means hands off
var good_lines = 0
var bad_lines = 0  # wrong field count, or not whole numbers
var trouble = ""  # why there is no connection; empty when there is one

var _where
var _witnessed
var _fields = []
var _lamps = []
var _peer = null
var _last_try = -RETRY_S
var _last_good = -1.0  # -1: no good line on this connection yet
var _last_sent = 0.0
var _last_seen = 0.0
var _joining = false
var _line = ""
var _outgoing = PoolByteArray()
var _sent = ""


# The One Euro filter (Casiez, Roussel and Vogel, CHI 2012): a low-pass filter whose cutoff rises
# with speed. Times in seconds; the first sample passes as it is.
class OneEuro:
    var min_cutoff_hz = 1.0
    var beta = 0.0  # Hz more per unit a second
    var rate_cutoff_hz = 1.0
    var value = null
    var rate = 0.0
    var _time_s = 0.0

    func filter(sample, now_s):
        if value == null:
            value = float(sample)
            _time_s = now_s
        var step_s = now_s - _time_s
        if step_s > 0:
            rate += _share(rate_cutoff_hz, step_s) * ((sample - value) / step_s - rate)
            value += _share(min_cutoff_hz + beta * abs(rate), step_s) * (sample - value)
            _time_s = now_s
        return value

    func _share(cutoff_hz, step_s):
        return 1 / (1 + 1 / (2 * PI * cutoff_hz * step_s))


class Field:
    var value = 0
    var pressed = 0
    var released = 0
    var active_low = false
    var low = 0
    var high = 1023
    var middle = null
    var dead = 0.0
    var dead_ends = 0.0
    var learns = false
    var beta = 0.0
    var filter = null

    func down():
        return (value == 0) == active_low

    func take(number, counts):
        var edge = counts and (value == 0) != (number == 0)
        value = number
        if edge and down():
            pressed += 1
        elif edge:
            released += 1
        if learns:
            var reversed = low > high
            var ends = [min(min(low, high), number), max(max(low, high), number)]
            low = ends[1 if reversed else 0]
            high = ends[0 if reversed else 1]

    func follow(at_s):
        filter.beta = beta / float(max(1, int(abs(high - low))))
        filter.filter(value, at_s)

    func axis():
        if middle == null:
            return _reach(low, high, dead_ends)
        return _reach(middle, high, dead) - _reach(middle, low, dead)

    func _reach(from, to, dead_from):  # 0 to 1, without its dead ends
        var now = value if filter == null or filter.value == null else filter.value
        var begin = from + dead_from * (to - from)
        var end = to - dead_ends * (to - from)
        if begin == end:
            return 0.0
        var share = (now - begin) / float(end - begin)  # clamp() would round to single precision
        return 0.0 if share < 0 else 1.0 if share > 1 else share


func _init(fields, where = ""):
    for _i in fields:
        _fields.append(Field.new())
    var known = OS.get_environment("UNDERSTUDY_TCP")
    _where = known if where == "" else where
    _witnessed = _where != "" and _where == known  # no other address is surely a panel of ours
    if _where == "":
        _where = "no address and no UNDERSTUDY_TCP"


func active_low(field): _fields[field].active_low = true  # a button that sends 0 when down
func value(field): return _fields[field].value  # 0 until the first good line
func down(field): return _fields[field].down()
func pressed(field): return _fields[field].pressed  # edges in all the lines
func released(field): return _fields[field].released  # that the last poll took
func set_lamps(lamps): _lamps = lamps.duplicate()


# What axis() makes of a field: 0 to 1 between the numbers that the box gives at its two ends
# (low above high: reversed), or, once it has a middle, -1 to 1 with 0 there. Before the first good
# line it is 0.
func calibrate(field, low, high):
    _fields[field].low = low
    _fields[field].high = high


func centre(field, middle, dead = 0.0):  # dead: this share of each side is 0 too
    _fields[field].middle = middle
    _fields[field].dead = dead


func dead_ends(field, dead): _fields[field].dead_ends = dead  # this share of the ends is full too
func learn_ends(field): _fields[field].learns = true  # they widen to what comes


func smooth(field, min_cutoff_hz = 1.0, beta = 5.0):  # beta: less lag in motion
    _fields[field].filter = OneEuro.new()
    _fields[field].filter.min_cutoff_hz = min_cutoff_hz
    _fields[field].beta = beta


func axis(field):
    return _fields[field].axis() if good_lines > 0 else 0.0


# Tells Understudy what the game makes of its input, for tests: a word for what it is doing and the
# numbers it acts on. Call it once a frame; it speaks 4 times a second, and only to the address in
# UNDERSTUDY_TCP, never to a box.
func witness(state, numbers = []):
    if not _witnessed or _last_good < 0 or _outgoing.size() > 0 or _now() - _last_seen < WITNESS_S:
        return
    if _peer == null or _peer.get_status() != StreamPeerTCP.STATUS_CONNECTED:
        return
    var word = ""
    for i in state.length():
        word += state[i] if state.ord_at(i) > 32 and state.ord_at(i) < 127 else "_"
    var age_ms = int(round((_now() - _last_good) * 1000))
    var text = "#seen %d %d %s" % [age_ms, _peer.get_available_bytes(), "-" if word == "" else word]
    for number in numbers:
        text += " " + (str(int(number)) if float(number) == int(number) else str(number))
    _outgoing = (text + "\n").to_ascii()
    _last_seen = _now()
    _flush()


func state():  # silent: no good line on this connection yet
    if _last_good < 0:
        return "silent"
    return "stale" if _now() - _last_good > stale_after_ms / 1000.0 else "fresh"


func poll():  # connects if need be, takes all that arrived, sends lamps
    for field in _fields:
        field.pressed = 0
        field.released = 0
    if _peer == null and _now() - _last_try >= RETRY_S:
        _open()
    if _peer == null or _peer.get_status() == StreamPeerTCP.STATUS_CONNECTING:
        return
    if _peer.get_status() != StreamPeerTCP.STATUS_CONNECTED:
        _drop("refused, or closed by the panel")  # a connection that fails begins like any other
        return
    for _i in READS_MAX:
        var size = _peer.get_available_bytes()
        if size <= 0:
            break
        feed(_peer.get_partial_data(min(size, 4096))[1])
    _send_lamps()


func feed(data, at_s = -1.0):  # takes bytes that came another way, and when they came
    var before = good_lines
    while 0 in data:  # it would end the text
        for i in data.size():
            data[i] = max(1, data[i])
    var lines = (_line + data.get_string_from_ascii()).split("\n")
    for i in lines.size() - 1:
        if _joining:
            _joining = false  # of the first line we have but the end
        elif lines[i].length() <= LINE_MAX and _take_line(lines[i]):
            good_lines += 1
        else:
            bad_lines += 1
    _line = lines[lines.size() - 1].left(LINE_MAX + 1)  # one too many: a bad line
    if good_lines > before:  # lines that came together count as one: the filter wants times between
        _last_good = _now() if at_s < 0 else at_s
        for field in _fields:
            if field.filter != null:
                field.follow(_last_good)


func close():
    for i in _lamps.size():
        _lamps[i] = 0
    if state() == "fresh" and _peer != null:
        _send_lamps()
    _drop("closed")


func _now():
    return OS.get_ticks_usec() / 1e6


func _drop(why):
    trouble = "%s: %s" % [_where, why]
    if _peer != null:
        _peer.disconnect_from_host()
    _peer = null
    _last_good = -1.0


func _open():
    _last_try = _now()
    _joining = true
    trouble = ""
    _line = ""
    _outgoing = PoolByteArray()
    _sent = ""
    var colon = _where.find_last(":")
    var host = _where.left(colon).replace("localhost", "127.0.0.1")
    if colon < 0 or not host.is_valid_ip_address():  # no names: a look-up may wait
        _drop("not HOST:PORT with the host in numbers, which is all that GDScript can open")
        return
    _peer = StreamPeerTCP.new()
    if _peer.connect_to_host(host, int(_where.right(colon + 1))) != OK:
        _drop("cannot connect")


func _take_line(line):
    if line.ends_with("\r"):
        line = line.left(line.length() - 1)
    var numbers = []
    for text in line.split(","):
        var digits = text.lstrip("-").lstrip("0").length()
        if not text.is_valid_integer() or text.begins_with("+") or digits > 10:
            return false
        var number = int(text)
        if number < -2147483648 or number > 2147483647:
            return false
        numbers.append(number)
    if numbers.size() != _fields.size():
        return false
    for i in numbers.size():
        _fields[i].take(numbers[i], good_lines > 0)
    return true


func _send_lamps():
    var texts = PoolStringArray()
    for lamp in _lamps:
        texts.append(str(int(lamp)))
    var text = texts.join(",")
    _flush()
    var due = text != "" and (text != _sent or _now() - _last_sent >= REFRESH_S)
    if due and _last_good >= 0 and _outgoing.size() == 0:  # bytes can upset a board that boots
        _sent = text
        _last_sent = _now()
        _outgoing = (text + "\n").to_ascii()
        _flush()


func _flush():
    if _outgoing.size() == 0 or _peer == null:
        return
    var sent = _peer.put_partial_data(_outgoing)[1]  # a lost connection shows at the next poll
    if sent >= _outgoing.size():
        _outgoing = PoolByteArray()
    elif sent > 0:
        _outgoing = _outgoing.subarray(sent, -1)
