# A client by TCP alone, as any language has it: connects to HOST:PORT, writes what arrives to OUT
# for SECONDS, and lights the first lamp after the first few lines.
#   tcp_client.py HOST:PORT SECONDS OUT
import socket
import sys
import time

host, port = sys.argv[1].split(":")
with socket.create_connection((host, int(port))) as link, open(sys.argv[3], "wb") as out:
    link.settimeout(3)
    end = time.monotonic() + float(sys.argv[2])
    lines = 0
    while time.monotonic() < end:
        data = link.recv(4096)
        if not data:
            sys.exit("the panel closed the connection")
        out.write(data)
        before, lines = lines, lines + data.count(b"\n")
        if before < 3 <= lines:
            link.sendall(b"255,0,0,0,34,130\n")
