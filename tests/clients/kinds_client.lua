-- By LuaSocket over TCP: reads a panel's lines into OUT, and writes LINES to it: the first once a
-- line has come, each other one ten lines later.
--   kinds_client.lua HOST:PORT OUT [LINES...]
local socket = require("socket")

local host, port = arg[1]:match("^(.*):(%d+)$")
local link = assert(socket.connect(host, tonumber(port)))
local out = assert(io.open(arg[2], "wb"))
out:setvbuf("no")
local count, next_to_write = 0, 3
while true do
  out:write(assert(link:receive("*l")), "\n")
  count = count + 1
  if arg[next_to_write] and count % 10 == 1 then
    assert(link:send(arg[next_to_write] .. "\n"))
    next_to_write = next_to_write + 1
  end
end
