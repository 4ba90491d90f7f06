# A serial client by pyserial: reads lines with a timeout, writes them to OUT for SECONDS, and
# lights the first lamp after the first few.
#   pyserial_client.py ADDRESS SECONDS OUT
import sys
import time

import serial

with serial.Serial(sys.argv[1], 115200, timeout=0.5) as port, open(sys.argv[3], "wb") as out:
    end = time.monotonic() + float(sys.argv[2])
    lines = 0
    while time.monotonic() < end:
        line = port.readline()
        out.write(line)
        if line.endswith(b"\n"):
            lines += 1
            if lines == 3:
                port.write(b"255,0,0,0,34,130\n")
