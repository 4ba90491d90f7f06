-- Panel reader for Lua 5.1 to 5.4 and LuaJIT: one file to copy beside a game that is played on a
-- panel of buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") by LuaSocket, over
-- TCP or a serial port; other line shapes are left to the game. The same reader exists in C++,
-- Python, C#, GDScript and JavaScript.
-- SPDX-License-Identifier: 0BSD  (use, change and pass on freely; no notice needed, no warranty)
--
--   local panel = require("panel_reader").new(5, "127.0.0.1:7000")  -- 5 numbers a line; or a port,
--   function update()                       -- or no address: UNDERSTUDY_PORT, else UNDERSTUDY_TCP
--     panel:poll()                          -- once a frame; takes all lines that came, never waits
--     if panel:state() ~= "fresh" then speed = 0         -- "stale" or "silent": neutral
--     else speed = panel:value(1) / 1023 end             -- fields count from 1, as all in Lua
--     for _ = 1, panel:pressed(3) do ring() end          -- a press between frames is not lost
--     panel:set_lamps({255, door_open and 255 or 0})     -- sent on change and every 0.5 s
--   end                                     -- at the end panel:close(): all lamps 0, and closes
--
-- A pot, slide or stick as the game wants it; without these calls axis() is value / 1023:
--   panel:calibrate(1, 12, 1010)            -- the numbers at its two ends; axis(1) is 0 to 1
--   panel:smooth(1)                         -- calm at rest, quick in motion
--   speed = panel:axis(1)
local socket = require("socket")
local has_serial, open_port = pcall(require, "socket.serial")  -- not on Windows

local LINE_MAX, READS_MAX, RETRY_S, REFRESH_S, WITNESS_S = 255, 16, 0.5, 0.5, 0.25

local elapsed, last_read = 0, socket.gettime()
local function now()  -- steady, though the only clock here is the wall's, which may be set back
  local read = socket.gettime()
  elapsed, last_read = elapsed + math.max(0, read - last_read), read
  return elapsed
end

-- The One Euro filter (Casiez, Roussel and Vogel, CHI 2012): a low-pass filter whose cutoff rises
-- with speed. Times in seconds; the first sample passes as it is.
local OneEuro = {}
OneEuro.__index = OneEuro

function OneEuro.new(min_cutoff_hz, beta, rate_cutoff_hz)  -- beta: Hz more per unit a second
  return setmetatable({min_cutoff_hz = min_cutoff_hz or 1, beta = beta or 0,
                       rate_cutoff_hz = rate_cutoff_hz or 1, rate = 0}, OneEuro)
end

local function share(cutoff_hz, step_s)
  return 1 / (1 + 1 / (2 * math.pi * cutoff_hz * step_s))
end

function OneEuro:filter(sample, now_s)
  if not self.value then self.value, self.time_s = sample, now_s end
  local step_s = now_s - self.time_s
  if step_s > 0 then
    local speed = (sample - self.value) / step_s
    self.rate = self.rate + share(self.rate_cutoff_hz, step_s) * (speed - self.rate)
    local cutoff_hz = self.min_cutoff_hz + self.beta * math.abs(self.rate)
    self.value = self.value + share(cutoff_hz, step_s) * (sample - self.value)
    self.time_s = now_s
  end
  return self.value
end

local PanelReader = {OneEuro = OneEuro}
PanelReader.__index = PanelReader

-- `where` may also be a function that opens the port by other means and returns an object with
-- LuaSocket's receive, send, settimeout and close; or nil and why not.
function PanelReader.new(fields, where)
  local self = setmetatable({
    baud = 115200,  -- change both before the first poll, if at all
    stale_after_ms = 250,  -- a hung box keeps its port open: stale means hands off
    good_lines = 0, bad_lines = 0,  -- bad: wrong field count, or not whole numbers
    trouble = "",  -- why there is no connection; empty when there is one
    _fields = {}, _lamps = {}, _line = "", _outgoing = "", _sent = "",
    _last_try = -RETRY_S, _last_sent = 0, _last_seen = -WITNESS_S,
  }, PanelReader)
  for i = 1, fields do
    self._fields[i] = {value = 0, pressed = 0, released = 0, active_low = false, low = 0,
                       high = 1023, dead = 0, dead_ends = 0, beta = 0, now = 0}
  end
  local known = {has_serial and os.getenv("UNDERSTUDY_PORT") or "",
                 os.getenv("UNDERSTUDY_TCP") or ""}
  for _, address in ipairs(known) do
    if address ~= "" then
      if (where or "") == "" then where = address end
      self._witnessed = self._witnessed or where == address  -- no other is surely a panel of ours
    end
  end
  self._where = (where or "") ~= "" and where or "no address and no UNDERSTUDY_PORT"
  return self
end

function PanelReader:active_low(field) self._fields[field].active_low = true end  -- 0 when down
function PanelReader:value(field) return self._fields[field].value end  -- 0 until a good line
function PanelReader:pressed(field) return self._fields[field].pressed end  -- edges in all lines
function PanelReader:released(field) return self._fields[field].released end  -- of the last poll
function PanelReader:set_lamps(lamps) self._lamps = {(unpack or table.unpack)(lamps)} end

function PanelReader:down(field)
  return (self:value(field) == 0) == self._fields[field].active_low
end

-- What axis() makes of a field: 0 to 1 between the numbers that the box gives at its two ends
-- (low above high: reversed), or, once it has a middle, -1 to 1 with 0 there. Before the first good
-- line it is 0.
function PanelReader:calibrate(field, low, high)
  self._fields[field].low, self._fields[field].high = low, high
end

function PanelReader:centre(field, middle, dead)  -- dead: this share of each side is 0 too
  self._fields[field].middle, self._fields[field].dead = middle, dead or 0
end

function PanelReader:dead_ends(field, dead) self._fields[field].dead_ends = dead end  -- full too
function PanelReader:learn_ends(field) self._fields[field].learns = true end  -- they widen

function PanelReader:smooth(field, min_cutoff_hz, beta)  -- beta: less lag in motion
  self._fields[field].filter, self._fields[field].beta = OneEuro.new(min_cutoff_hz), beta or 5
end

local function reach(at, from, to, dead_from, dead_to)  -- 0 to 1, without its dead ends
  local first, last = from + dead_from * (to - from), to - dead_to * (to - from)
  return first == last and 0 or math.max(0, math.min(1, (at - first) / (last - first)))
end

function PanelReader:axis(field)
  local f = self._fields[field]
  if self.good_lines == 0 then return 0 end
  if not f.middle then return reach(f.now, f.low, f.high, f.dead_ends, f.dead_ends) end
  return reach(f.now, f.middle, f.high, f.dead, f.dead_ends)
       - reach(f.now, f.middle, f.low, f.dead, f.dead_ends)
end

-- Tells Understudy what the game makes of its input, for tests: a word for what it is doing and the
-- numbers it acts on. Call it once a frame; it speaks 4 times a second, and only to the address in
-- UNDERSTUDY_PORT or UNDERSTUDY_TCP, never to a box. (How many bytes wait can't be asked: 0 or 1.)
function PanelReader:witness(state, ...)
  local time = now()
  local can = self._witnessed and self._port and self._last_good and self._outgoing == ""
  if not can or time - self._last_seen < WITNESS_S then return end
  local waiting = #socket.select({self._port}, nil, 0)
  local age_ms = math.floor((time - self._last_good) * 1000 + 0.5)
  local words = {"#seen", ("%d"):format(age_ms), ("%d"):format(waiting),
                 state == "" and "-" or (state:gsub("[^!-~]", "_"))}
  for _, number in ipairs({...}) do
    words[#words + 1] = ("%.10g"):format(number):gsub(",", ".")  -- whatever the locale's point is
  end
  self._outgoing, self._last_seen = table.concat(words, " ") .. "\n", time
  self:_flush()
end

function PanelReader:state()  -- silent: no good line on this connection yet
  if not self._last_good then return "silent" end
  return now() - self._last_good > self.stale_after_ms / 1000 and "stale" or "fresh"
end

function PanelReader:poll()  -- connects if need be, takes all that arrived, sends lamps
  for _, field in ipairs(self._fields) do field.pressed, field.released = 0, 0 end
  if not self._port and now() - self._last_try >= RETRY_S then self:_open() end
  for _ = 1, READS_MAX do
    if not self._port then return end
    local data, why, part = self._port:receive(4096)
    self:feed(data or part or "")
    if why == "timeout" then break end
    if why then self:_drop(why) end
  end
  self:_send_lamps()
end

function PanelReader:feed(data, at_s)  -- takes bytes that came another way, and when they came
  local before = self.good_lines
  data = self._line .. data
  local first = 1
  for last in data:gmatch("()\n") do
    local line = data:sub(first, last - 1)
    first = last + 1
    if self._joining then self._joining = false  -- of the first line we have but the end
    elseif #line <= LINE_MAX and self:_take_line(line) then self.good_lines = self.good_lines + 1
    else self.bad_lines = self.bad_lines + 1 end
  end
  self._line = data:sub(first, first + LINE_MAX)  -- one too many: a bad line
  if self.good_lines == before then return end
  self._last_good = at_s or now()
  for _, f in ipairs(self._fields) do  -- lines that came together count as one, the newest: the
    f.now = f.value                    -- filter wants the time between
    if f.filter then
      f.filter.beta = f.beta / math.max(1, math.abs(f.high - f.low))
      f.now = f.filter:filter(f.value, self._last_good)
    end
  end
end

function PanelReader:close()
  for i in ipairs(self._lamps) do self._lamps[i] = 0 end
  if self._port and self:state() == "fresh" then self:_send_lamps() end
  self:_drop("closed")
end

function PanelReader:_drop(why)
  self.trouble = (type(self._where) == "function" and "port" or self._where) .. ": " .. why
  if self._port then self._port:close() end
  self._port, self._last_good = nil, nil
end

local function open_tcp(host, port)
  if host == "localhost" then host = "127.0.0.1" end
  if not host:match("^[%d.]+$") then return nil, "write the host in numbers: a look-up may wait" end
  local link = socket.tcp()
  link:settimeout(0)
  link:setoption("tcp-nodelay", true)
  link:connect(host, tonumber(port))  -- once it is refused, receive() says so
  return link
end

local function open_serial(path, baud)
  if not has_serial then return nil, "this LuaSocket opens no serial ports; use HOST:PORT" end
  local port, why = open_port(path)
  if not port then return nil, why end
  port:settimeout(0)
  local settings = "'" .. path:gsub("'", "'\\''") .. "' raw -echo clocal " .. baud .. " 2>/dev/null"
  local set = os.execute("stty -F " .. settings .. " || stty -f " .. settings)  -- Linux; macOS
  if set ~= true and set ~= 0 then
    port:close()
    return nil, "is no serial port, or has no " .. baud .. " baud"
  end
  for _ = 1, 64 do  -- what waited before us is old
    if select(2, port:receive(4096)) then break end
  end
  return port
end

function PanelReader:_open()
  self._last_try, self._joining = now(), true
  self._line, self._outgoing, self._sent, self.trouble = "", "", "", ""
  local why
  if type(self._where) == "function" then self._port, why = self._where()
  elseif self._where:match("^[^/]+:%d+$") then
    self._port, why = open_tcp(self._where:match("^(.*):(%d+)$"))
  else self._port, why = open_serial(self._where, self.baud) end
  if not self._port then self:_drop(why or "cannot be opened") end
end

function PanelReader:_take_line(line)
  local numbers = {}
  for text in (line:gsub("\r$", "") .. ","):gmatch("([^,]*),") do
    local number = text:match("^%-?%d+$") and tonumber(text)
    if not number or number < -2^31 or number >= 2^31 then return false end
    numbers[#numbers + 1] = number
  end
  if #numbers ~= #self._fields then return false end
  for i, f in ipairs(self._fields) do
    local edge = self.good_lines > 0 and (f.value == 0) ~= (numbers[i] == 0)
    f.value = numbers[i]
    if edge and self:down(i) then f.pressed = f.pressed + 1
    elseif edge then f.released = f.released + 1 end
    if f.learns then
      local least, most = math.min(f.low, f.high, f.value), math.max(f.low, f.high, f.value)
      if f.low > f.high then f.low, f.high = most, least else f.low, f.high = least, most end
    end
  end
  return true
end

function PanelReader:_send_lamps()
  self:_flush()
  local texts = {}
  for i, lamp in ipairs(self._lamps) do texts[i] = ("%d"):format(math.floor(lamp)) end
  local text = table.concat(texts, ",")
  local due = text ~= "" and (text ~= self._sent or now() - self._last_sent >= REFRESH_S)
  if due and self._last_good and self._outgoing == "" then  -- bytes can upset a board that boots
    self._sent, self._outgoing, self._last_sent = text, text .. "\n", now()
    self:_flush()
  end
end

function PanelReader:_flush()
  if self._outgoing == "" or not self._port then return end
  local sent, why, partly = self._port:send(self._outgoing)
  self._outgoing = self._outgoing:sub((sent or partly or 0) + 1)  -- the rest goes next time
  if why and why ~= "timeout" then self:_drop(why) end
end

return PanelReader
