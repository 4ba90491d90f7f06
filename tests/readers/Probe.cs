// The C# panel reader in the same test program as probe.cpp, which says what it does.
using System;
using System.Diagnostics;
using System.Globalization;
using System.IO;
using System.Linq;
using System.Text;
using System.Threading;

static class Probe {
    const int FrameMs = 16, PieceBytes = 23, HourLines = 180000;
    static readonly CultureInfo plain = CultureInfo.InvariantCulture;

    static string ValuesOf(PanelReader panel, int fields) {
        return string.Join(",", Enumerable.Range(0, fields)
            .Select(field => panel.Value(field).ToString(plain)));
    }

    static void JudgeLines(int fields, string path, TextWriter output) {
        byte[] data = File.ReadAllBytes(path);
        var each = new PanelReader(fields, "none");
        for (int at = 0; at < data.Length;) {
            int end = Array.IndexOf(data, (byte)'\n', at) + 1;
            long before = each.GoodLines;
            byte[] line = new byte[end - at];
            Array.Copy(data, at, line, 0, line.Length);
            each.Feed(line, line.Length);
            output.WriteLine(each.GoodLines > before ? "good " + ValuesOf(each, fields) : "bad");
            at = end;
        }
        var all = new PanelReader(fields, "none");
        var piece = new byte[PieceBytes];
        for (int at = 0; at < data.Length; at += PieceBytes) {
            int size = Math.Min(PieceBytes, data.Length - at);
            Array.Copy(data, at, piece, 0, size);
            all.Feed(piece, size);
        }
        string edges = string.Join(" ", Enumerable.Range(0, fields)
            .Select(field => all.Pressed(field) + "/" + all.Released(field)));
        output.WriteLine("total " + all.GoodLines + " " + all.BadLines + " " +
                         ValuesOf(all, fields) + " " + edges);
    }

    static string Places(double number) { return number.ToString("F12", plain); }

    static void Feed(PanelReader panel, string line, double atS) {
        byte[] data = Encoding.ASCII.GetBytes(line + "\n");
        panel.Feed(data, data.Length, atS);
    }

    static void Shape(string path, TextWriter output) {
        output.WriteLine(CultureInfo.CurrentCulture.NumberFormat.NumberDecimalSeparator);
        PanelReader panel = null;
        OneEuro euro = null;
        int fields = 0;
        foreach (string order in File.ReadAllLines(path)) {
            string[] words = order.Split(' ');
            Func<int, double> number = i => double.Parse(words[i], plain);
            Func<int, int> whole = i => int.Parse(words[i], plain);
            switch (words[0]) {
                case "reader": panel = new PanelReader(fields = whole(1), "none"); break;
                case "calibrate": panel.Calibrate(whole(1), whole(2), whole(3)); break;
                case "centre": panel.Centre(whole(1), whole(2), number(3)); break;
                case "dead_ends": panel.DeadEnds(whole(1), number(2)); break;
                case "learn_ends": panel.LearnEnds(whole(1)); break;
                case "smooth": panel.Smooth(whole(1), number(2), number(3)); break;
                case "euro":
                    euro = new OneEuro { MinCutoffHz = number(1), Beta = number(2),
                                         RateCutoffHz = number(3) };
                    break;
                case "sample": output.WriteLine(Places(euro.Filter(number(2), number(1)))); break;
                case "line":
                    Feed(panel, words[2], number(1));
                    output.WriteLine(string.Join(" ", Enumerable.Range(0, fields)
                        .Select(field => Places(panel.Axis(field)))));
                    break;
            }
        }
    }

    static void LiveAnHour(string flag) {
        var panel = new PanelReader(3, "none");
        panel.LearnEnds(0); panel.Centre(1, 512, 0.1); panel.Smooth(1);
        var noise = new string('x', 300);
        for (int n = 0; n < HourLines; ++n) {
            if (n == HourLines / 10) { GC.Collect(); Console.WriteLine("warm"); }
            Feed(panel, n % 10 > 0 ? n % 1024 + "," + n * 7 % 1024 + ",1" : noise, n / 50.0);
        }
        GC.Collect();
        Console.WriteLine("done " + panel.GoodLines);
        while (File.Exists(flag)) Thread.Sleep(FrameMs);
    }

    static void Play(int fields, string address, string flag, int[] lamps, TextWriter output) {
        using (var panel = new PanelReader(fields, address)) {
            while (File.Exists(flag)) {
                var frame = Stopwatch.StartNew();
                panel.Poll();
                lamps[0] = panel.Value(0) / 4;
                lamps[1] = panel.Down(1) ? 255 : 0;
                panel.SetLamps(lamps);
                panel.Witness("in play", panel.Value(0), panel.Down(1) ? 1 : 0, 0.25);
                output.WriteLine("{0} {1} {2} {3} {4} {5} {6} {7}",
                    frame.ElapsedTicks * 1000000 / Stopwatch.Frequency,
                    panel.State().ToString().ToLowerInvariant(), panel.GoodLines, panel.BadLines,
                    ValuesOf(panel, fields), panel.Pressed(1), panel.Released(1), panel.Trouble);
                output.Flush();
                Thread.Sleep(FrameMs);
            }
        }
    }

    static int[] LampsOf(string count, string rest) {
        return Enumerable.Repeat(int.Parse(rest, plain), int.Parse(count, plain)).ToArray();
    }

    static int Main(string[] words) {
        using (var output = new StreamWriter(Console.OpenStandardOutput())) {
            if (words[0] == "lines")
                for (int i = 1; i + 1 < words.Length; i += 2)
                    JudgeLines(int.Parse(words[i], plain), words[i + 1], output);
            else if (words[0] == "shape") Shape(words[1], output);
            else if (words[0] == "hour") LiveAnHour(words[1]);
            else Play(int.Parse(words[1], plain), words[2], words[3],
                      LampsOf(words[4], words[5]), output);
        }
        return 0;
    }
}
