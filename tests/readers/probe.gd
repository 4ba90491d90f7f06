# The GDScript panel reader in the same test program as probe.cpp, which says what it does. Its
# words stand on the command line behind "--words". The runtime writes words of its own, too; what
# is ours begins with "> ".
extends SceneTree

const FRAME_MS = 16
const PIECE_BYTES = 23
const HOUR_LINES = 180000

var here = get_script().resource_path.get_base_dir()
var PanelReader = load(here + "/../../protocol/readers/panel_reader.gd")


func _initialize():
    var words = Array(OS.get_cmdline_args())
    words = words.slice(words.find("--words") + 1, words.size() - 1)
    if words[0] == "lines":
        for i in range(1, words.size(), 2):
            judge_lines(int(words[i]), words[i + 1])
    elif words[0] == "shape":
        shape(words[1])
    elif words[0] == "hour":
        live_an_hour(words[1])
    else:
        play(int(words[1]), words[2], words[3], int(words[4]), int(words[5]))
    quit()


func say(text):
    print("> ", text)


func exists(path):
    return File.new().file_exists(path)


func bytes_of(path):
    var file = File.new()
    file.open(path, File.READ)
    return file.get_buffer(file.get_len())


func values_of(panel, fields):
    var texts = PoolStringArray()
    for i in fields:
        texts.append(str(panel.value(i)))
    return texts.join(",")


func judge_lines(fields, path):
    var data = bytes_of(path)
    var each = PanelReader.new(fields, "none")
    var first = 0
    for last in data.size():
        if data[last] == 10:
            var before = each.good_lines
            each.feed(data.subarray(first, last))
            say("good " + values_of(each, fields) if each.good_lines > before else "bad")
            first = last + 1
    var all = PanelReader.new(fields, "none")
    for at in range(0, data.size(), PIECE_BYTES):
        all.feed(data.subarray(at, min(at + PIECE_BYTES, data.size()) - 1))
    var text = "total %d %d %s" % [all.good_lines, all.bad_lines, values_of(all, fields)]
    for i in fields:
        text += " %d/%d" % [all.pressed(i), all.released(i)]
    say(text)


func shape(path):
    say(("%.1f" % 0.5).replace("0", "").replace("5", ""))
    var panel
    var euro
    var fields
    for order in bytes_of(path).get_string_from_ascii().split("\n", false):
        var words = order.split(" ")
        var numbers = []
        for i in range(1, words.size()):
            numbers.append(str2var(words[i]))  # float() would round to single precision
        match words[0]:
            "reader":
                fields = int(words[1])
                panel = PanelReader.new(fields, "none")
            "euro":
                euro = PanelReader.OneEuro.new()
                euro.min_cutoff_hz = numbers[0]
                euro.beta = numbers[1]
                euro.rate_cutoff_hz = numbers[2]
            "sample":
                say("%.12f" % euro.filter(numbers[1], numbers[0]))
            "line":
                panel.feed((words[2] + "\n").to_ascii(), numbers[0])
                var axes = PoolStringArray()
                for i in fields:
                    axes.append("%.12f" % panel.axis(i))
                say(axes.join(" "))
            _:
                panel.callv(words[0], numbers)


func live_an_hour(flag):
    var panel = PanelReader.new(3, "none")
    panel.learn_ends(0)
    panel.centre(1, 512, 0.1)
    panel.smooth(1)
    var noise = PoolByteArray()
    noise.resize(300)
    noise.append(10)
    for n in HOUR_LINES:
        if n == HOUR_LINES / 10:
            say("warm")
        var good = ("%d,%d,1\n" % [n % 1024, n * 7 % 1024]).to_ascii()
        panel.feed(good if n % 10 else noise, n / 50.0)
    say("done %d" % panel.good_lines)
    while exists(flag):
        OS.delay_msec(FRAME_MS)


func play(fields, address, flag, lamp_count, rest):
    var panel = PanelReader.new(fields, address)
    var lamps = []
    for _i in lamp_count:
        lamps.append(rest)
    while exists(flag):
        var begun = OS.get_ticks_usec()
        panel.poll()
        lamps[0] = panel.value(0) / 4
        lamps[1] = 255 if panel.down(1) else 0
        panel.set_lamps(lamps)
        panel.witness("in play", [panel.value(0), panel.down(1), 0.25])
        say("%d %s %d %d %s %d %d %s" % [OS.get_ticks_usec() - begun, panel.state(),
            panel.good_lines, panel.bad_lines, values_of(panel, fields), panel.pressed(1),
            panel.released(1), panel.trouble])
        OS.delay_msec(FRAME_MS)
    panel.close()
