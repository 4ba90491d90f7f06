// By the SerialPort class of the .NET family: reads a panel's lines into OUT, and writes LINES to
// it: the first once a line has come, each other one ten lines later.
//   KindsClient.exe ADDRESS OUT [LINES...]
using System;
using System.IO;
using System.IO.Ports;

static class KindsClient {
    static void Main(string[] words) {
        int count = 0, next = 2;
        using (var output = new StreamWriter(words[1]) { AutoFlush = true })
        using (var port = new SerialPort(words[0], 115200) { NewLine = "\n", DtrEnable = true }) {
            port.Open();
            while (true) {
                output.Write(port.ReadLine() + "\n");
                if (++count % 10 == 1 && next < words.Length) port.Write(words[next++] + "\n");
            }
        }
    }
}
