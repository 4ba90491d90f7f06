// A serial client by the SerialPort class of the .NET family, reading with ReadLine and a timeout.
//   SerialPortClient.exe ADDRESS SECONDS OUT             waits up to 500 ms for each line
//   SerialPortClient.exe ADDRESS SECONDS OUT 9600 naive  at another speed, and as first attempts
//                                                        do: one ReadLine of 1 ms in each frame
//                                                        of 16 ms
// Writes the lines it got to OUT, and lights the first lamp after the first few.
using System;
using System.Diagnostics;
using System.Globalization;
using System.IO;
using System.IO.Ports;
using System.Threading;

static class SerialPortClient {
    static int Main(string[] words) {
        double seconds = double.Parse(words[1], CultureInfo.InvariantCulture);
        int baud = words.Length > 3 ? int.Parse(words[3], CultureInfo.InvariantCulture) : 115200;
        bool naive = words.Length > 4 && words[4] == "naive";
        int lines = 0;
        using (var output = new StreamWriter(words[2]))
        using (var port = new SerialPort(words[0], baud)) {
            port.ReadTimeout = naive ? 1 : 500;
            port.NewLine = "\n";
            port.DtrEnable = true;
            port.Open();
            var clock = Stopwatch.StartNew();
            while (clock.Elapsed.TotalSeconds < seconds) {
                try {
                    output.Write(port.ReadLine() + "\n");
                    if (++lines == 3) port.Write("255,0,0,0,34,130\n");
                } catch (TimeoutException) {
                    // No line yet: the board may be starting.
                }
                if (naive) Thread.Sleep(16);
            }
        }
        return 0;
    }
}
