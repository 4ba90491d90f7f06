# By pyserial: reads a panel's lines into OUT, and writes LINES to it: the first once a line has
# come, each other one ten lines later.
#   kinds_client.py ADDRESS OUT [LINES...]
import sys

import serial

address, out_name, *to_write = sys.argv[1:]
with serial.Serial(address, 115200, timeout=1) as port, open(out_name, "wb", buffering=0) as out:
    count = 0
    while True:
        line = port.readline()
        out.write(line)
        count += line.endswith(b"\n")
        if to_write and count % 10 == 1:
            port.write(to_write.pop(0).encode() + b"\n")
