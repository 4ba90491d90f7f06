// The C# panel reader in the same test program as probe.cpp, which says what it does.
using System;
using System.Diagnostics;
using System.Globalization;
using System.IO;
using System.Linq;
using System.Threading;

static class Probe {
    const int FrameMs = 16, PieceBytes = 7;

    static string ValuesOf(PanelReader panel, int fields) {
        return string.Join(",", Enumerable.Range(0, fields)
            .Select(field => panel.Value(field).ToString(CultureInfo.InvariantCulture)));
    }

    static void JudgeLines(int fields, string path) {
        byte[] data = File.ReadAllBytes(path);
        var each = new PanelReader(fields, "none");
        for (int at = 0; at < data.Length;) {
            int end = Array.IndexOf(data, (byte)'\n', at) + 1;
            long before = each.GoodLines;
            byte[] line = data.Skip(at).Take(end - at).ToArray();
            each.Feed(line, line.Length);
            Console.WriteLine(each.GoodLines > before ? "good " + ValuesOf(each, fields) : "bad");
            at = end;
        }
        var all = new PanelReader(fields, "none");
        for (int at = 0; at < data.Length; at += PieceBytes) {
            byte[] piece = data.Skip(at).Take(PieceBytes).ToArray();
            all.Feed(piece, piece.Length);
        }
        string edges = string.Join(" ", Enumerable.Range(0, fields)
            .Select(field => all.Pressed(field) + "/" + all.Released(field)));
        Console.WriteLine("total " + all.GoodLines + " " + all.BadLines + " " +
                          ValuesOf(all, fields) + " " + edges);
    }

    static void Play(int fields, string address, string flag, int[] lamps) {
        var output = new StreamWriter(Console.OpenStandardOutput());
        using (var panel = new PanelReader(fields, address)) {
            while (File.Exists(flag)) {
                var frame = Stopwatch.StartNew();
                panel.Poll();
                lamps[0] = panel.Value(0) / 4;
                lamps[1] = panel.Down(1) ? 255 : 0;
                panel.SetLamps(lamps);
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
        int level = int.Parse(rest, CultureInfo.InvariantCulture);
        return Enumerable.Repeat(level, int.Parse(count, CultureInfo.InvariantCulture)).ToArray();
    }

    static int Main(string[] words) {
        int fields = int.Parse(words[1], CultureInfo.InvariantCulture);
        if (words[0] == "lines") JudgeLines(fields, words[2]);
        else Play(fields, words[2], words[3], LampsOf(words[4], words[5]));
        return 0;
    }
}
