-- The Lua panel reader in the same test program as probe.cpp, which says what it does.
local here = arg[0]:match("^(.*)/")
package.path = here .. "/../../protocol/readers/?.lua;" .. package.path
local PanelReader = require("panel_reader")
local socket = require("socket")

local FRAME_S, PIECE_BYTES, HOUR_LINES = 0.016, 23, 180000
local unpack = unpack or table.unpack

local function exists(path)
  local file = io.open(path)
  return file and file:close()
end

local function values_of(panel, fields)
  local values = {}
  for i = 1, fields do values[i] = ("%d"):format(panel:value(i)) end
  return table.concat(values, ",")
end

local function judge_lines(fields, path)
  local file = assert(io.open(path, "rb"))
  local data = file:read("*a")
  file:close()
  local each = PanelReader.new(fields, "none")
  for line in data:gmatch("[^\n]*\n") do
    local before = each.good_lines
    each:feed(line)
    print(each.good_lines > before and "good " .. values_of(each, fields) or "bad")
  end
  local all, edges = PanelReader.new(fields, "none"), {}
  for at = 1, #data, PIECE_BYTES do all:feed(data:sub(at, at + PIECE_BYTES - 1)) end
  for i = 1, fields do edges[i] = ("%d/%d"):format(all:pressed(i), all:released(i)) end
  print(("total %d %d %s %s"):format(all.good_lines, all.bad_lines, values_of(all, fields),
                                     table.concat(edges, " ")))
end

local function places(number)
  return (("%.12f"):format(number):gsub(",", "."))
end

local function shape(path)
  print((("%.1f"):format(0.5):gsub("%d", "")))
  local panel, euro, fields
  for order in io.lines(path) do
    local words = {}
    for word in order:gmatch("%S+") do words[#words + 1] = word end
    local verb = table.remove(words, 1)
    local text = words[2]
    for i, word in ipairs(words) do words[i] = tonumber(word) end
    if verb == "reader" then
      fields = words[1]
      panel = PanelReader.new(fields, "none")
    elseif verb == "euro" then euro = PanelReader.OneEuro.new(unpack(words))
    elseif verb == "sample" then print(places(euro:filter(words[2], words[1])))
    elseif verb == "line" then
      local axes = {}
      panel:feed(text .. "\n", words[1])
      for i = 1, fields do axes[i] = places(panel:axis(i)) end
      print(table.concat(axes, " "))
    else panel[verb](panel, words[1] + 1, words[2], words[3]) end
  end
end

local function live_an_hour(flag)
  local panel = PanelReader.new(3, "none")
  panel:learn_ends(1)
  panel:centre(2, 512, 0.1)
  panel:smooth(2)
  for n = 0, HOUR_LINES - 1 do
    if n == HOUR_LINES / 10 then
      collectgarbage()
      print("warm")
    end
    local good = ("%d,%d,1\n"):format(n % 1024, n * 7 % 1024)
    panel:feed(n % 10 > 0 and good or ("x"):rep(300) .. "\n", n / 50)
  end
  collectgarbage()
  print(("done %d"):format(panel.good_lines))
  while exists(flag) do socket.sleep(FRAME_S) end
end

local function play(fields, address, flag, lamps)
  local panel = PanelReader.new(fields, address)
  while exists(flag) do
    local begun = socket.gettime()
    panel:poll()
    lamps[1], lamps[2] = math.floor(panel:value(1) / 4), panel:down(2) and 255 or 0
    panel:set_lamps(lamps)
    panel:witness("in play", panel:value(1), panel:down(2) and 1 or 0, 0.25)
    print(("%d %s %d %d %s %d %d %s"):format((socket.gettime() - begun) * 1e6 // 1, panel:state(),
          panel.good_lines, panel.bad_lines, values_of(panel, fields), panel:pressed(2),
          panel:released(2), panel.trouble))
    socket.sleep(FRAME_S)
  end
  panel:close()
end

os.setlocale("")
io.stdout:setvbuf(arg[1] == "lines" and "full" or "line")
if arg[1] == "lines" then
  for i = 2, #arg, 2 do judge_lines(tonumber(arg[i]), arg[i + 1]) end
elseif arg[1] == "shape" then shape(arg[2])
elseif arg[1] == "hour" then live_an_hour(arg[2])
else
  local lamps = {}
  for i = 1, tonumber(arg[5]) do lamps[i] = tonumber(arg[6]) end
  play(tonumber(arg[2]), arg[3], arg[4], lamps)
end
