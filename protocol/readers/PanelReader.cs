// Panel reader for C# 6 and newer (.NET, Mono): one file to copy into a game that is played on a
// panel of buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") over a serial port
// or TCP; other line shapes are left to the game. The same reader exists in C++, Python, GDScript,
// Lua and JavaScript.
// SPDX-License-Identifier: 0BSD  (use, change and pass on freely; no notice needed, no warranty)
//
//   var panel = new PanelReader(5, "COM5");   // 5 numbers a line; or "127.0.0.1:7000"; or no
//   void Update() {                           // address: UNDERSTUDY_PORT, else UNDERSTUDY_TCP
//     panel.Poll();                           // once a frame; takes all lines, never waits
//     if (panel.State() != PanelState.Fresh) speed = 0;    // stale or silent: neutral
//     else speed = panel.Value(0) / 1023f;                 // the newest value of the first field
//     for (int n = panel.Pressed(2); n > 0; --n) Ring();   // a press between frames is not lost
//     panel.SetLamps(255, doorOpen ? 255 : 0);             // sent on change and every 0.5 s
//   }                                         // at the end panel.Close(): all lamps 0, and closes
//
// A pot, slide or stick as the game wants it; without these calls Axis() is Value() / 1023:
//   panel.Calibrate(0, 12, 1010);             // the numbers at its two ends; Axis(0) is 0 to 1
//   panel.Smooth(0);                          // calm at rest, quick in motion
//   speed = (float)panel.Axis(0);
using System;
using System.Diagnostics;
using System.Globalization;
using System.IO;
using System.IO.Ports;
using System.Linq;
using System.Net.Sockets;
using System.Text;
using System.Text.RegularExpressions;
using System.Threading.Tasks;

public enum PanelState { Silent, Stale, Fresh }  // Silent: no good line on this connection yet

// The One Euro filter (Casiez, Roussel and Vogel, CHI 2012): a low-pass filter whose cutoff rises
// with speed. Times in seconds; the first sample passes as it is.
public sealed class OneEuro {
  public double MinCutoffHz = 1, Beta = 0, RateCutoffHz = 1;  // Beta: Hz more per unit a second
  public double Value, Rate;
  double? time;
  public double Filter(double sample, double nowS) {
    if (time == null) { Value = sample; time = nowS; }
    double step = nowS - time.Value;
    if (step <= 0) return Value;
    Rate += Share(RateCutoffHz, step) * ((sample - Value) / step - Rate);
    Value += Share(MinCutoffHz + Beta * Math.Abs(Rate), step) * (sample - Value);
    time = nowS;
    return Value;
  }
  static double Share(double cutoffHz, double step) {
    return 1 / (1 + 1 / (2 * Math.PI * cutoffHz * step));
  }
}

public sealed class PanelReader : IDisposable {
  public int Baud = 115200;         // change both before the first Poll, if at all
  public int StaleAfterMs = 250;    // a hung box keeps its port open: stale means hands off
  public long GoodLines, BadLines;  // bad: wrong field count, or not whole numbers
  public string Trouble = "";       // why there is no connection; empty when there is one

  sealed class Field {
    public int Value, Pressed, Released, Low = 0, High = 1023, Middle;
    public double Dead, DeadEnds, Beta, Now;  // Now: the value, smoothed where wanted
    public bool ActiveLow, Centred, Learns;
    public OneEuro Filter;
    public bool Down { get { return (Value == 0) == ActiveLow; } }
  }
  const int LineMax = 255, ReadsMax = 16;
  const double RetryS = 0.5, RefreshS = 0.5, WitnessS = 0.25;
  const TaskCreationOptions ownThread = TaskCreationOptions.LongRunning;  // else Mono can hang
  static readonly CultureInfo plain = CultureInfo.InvariantCulture;
  readonly string address;
  readonly bool witnessed;
  readonly Field[] all;
  readonly Regex shape;
  readonly Stopwatch clock = Stopwatch.StartNew();
  readonly StringBuilder line = new StringBuilder();
  readonly byte[] bytes = new byte[4096];
  int[] lamps = {};
  double lastTry = -RetryS, lastGood = -1, lastSent, lastSeen;  // -1: no good line yet
  bool joining; string sent = "";
  SerialPort serial;
  TcpClient tcp;
  Stream stream;
  Task connecting, writing;
  double Now { get { return clock.Elapsed.TotalSeconds; } }
  public PanelReader(int fields, string address = "") {
    all = Enumerable.Range(0, fields).Select(i => new Field()).ToArray();
    shape = new Regex("^-?[0-9]+(,-?[0-9]+){" + (fields - 1) + "}\r?\\z");
    foreach (string name in new[] {"UNDERSTUDY_PORT", "UNDERSTUDY_TCP"}) {
      string known = Environment.GetEnvironmentVariable(name);
      if (string.IsNullOrEmpty(known)) continue;
      if (string.IsNullOrEmpty(address)) address = known;
      witnessed |= address == known;  // no other address is surely a panel of ours
    }
    this.address = string.IsNullOrEmpty(address) ? "no address and no UNDERSTUDY_PORT" : address;
  }
  public void ActiveLow(int field) { all[field].ActiveLow = true; }  // a button, 0 when down
  public int Value(int field) { return all[field].Value; }           // 0 until the first good line
  public bool Down(int field) { return all[field].Down; }
  public int Pressed(int field) { return all[field].Pressed; }       // edges in all the lines
  public int Released(int field) { return all[field].Released; }     // that the last Poll took
  public void SetLamps(params int[] levels) { lamps = (int[])levels.Clone(); }
  // What Axis() makes of a field: 0 to 1 between the numbers that the box gives at its two ends
  // (low above high: reversed), or, once it has a middle, -1 to 1 with 0 there. Before the first
  // good line it is 0.
  public void Calibrate(int field, int low, int high) {
    all[field].Low = low; all[field].High = high;
  }
  public void Centre(int field, int middle, double dead = 0) {  // dead: this share each side is 0
    Field f = all[field];
    f.Centred = true; f.Middle = middle; f.Dead = dead;
  }
  public void DeadEnds(int field, double dead) { all[field].DeadEnds = dead; }  // full from there
  public void LearnEnds(int field) { all[field].Learns = true; }  // they widen to what comes
  public void Smooth(int field, double minCutoffHz = 1, double beta = 5) {  // beta: less lag
    all[field].Filter = new OneEuro { MinCutoffHz = minCutoffHz };
    all[field].Beta = beta;
  }
  public double Axis(int field) {
    Field f = all[field];
    if (GoodLines == 0) return 0;
    if (!f.Centred) return Reach(f.Now, f.Low, f.High, f.DeadEnds, f.DeadEnds);
    return Reach(f.Now, f.Middle, f.High, f.Dead, f.DeadEnds) -
           Reach(f.Now, f.Middle, f.Low, f.Dead, f.DeadEnds);
  }
  // Tells Understudy what the game makes of its input, for tests: a word for what it is doing and
  // the numbers it acts on. Call it once a frame; it speaks 4 times a second, and only to the
  // address in UNDERSTUDY_PORT or UNDERSTUDY_TCP, never to a box.
  public void Witness(string state, params double[] numbers) {
    if (!witnessed || stream == null || lastGood < 0 || Now - lastSeen < WitnessS) return;
    try {
      if (Busy()) return;
      string word = state == "" ? "-" : Regex.Replace(state, "[^!-~]", "_");
      string line = "#seen " + ((long)((Now - lastGood) * 1000 + 0.5)).ToString(plain) + " " +
                    Waiting().ToString(plain) + " " + word;
      foreach (double number in numbers)
        line += " " + number.ToString("G10", plain).ToLowerInvariant();
      lastSeen = Now;
      Send(line);
    } catch (Exception error) { Drop(error.Message); }
  }
  public void Dispose() { Close(); }
  public PanelState State() {
    if (lastGood < 0) return PanelState.Silent;
    return Now - lastGood > StaleAfterMs / 1e3 ? PanelState.Stale : PanelState.Fresh;
  }
  public void Poll() {  // connects if need be, takes all that arrived, sends lamps
    foreach (Field f in all) f.Pressed = f.Released = 0;
    bool open = serial != null || tcp != null;
    if (!open && Now - lastTry < RetryS) return;
    try {
      if (!open) Open();
      if (stream == null && !connecting.IsCompleted) return;
      if (stream == null) { connecting.GetAwaiter().GetResult(); stream = tcp.GetStream(); }
      for (int reads = 0, size; reads < ReadsMax && (size = Waiting()) > 0; ++reads)
        Feed(bytes, stream.Read(bytes, 0, Math.Min(size, bytes.Length)));
      SendLamps();
    } catch (Exception error) { Drop(error.Message); }  // whatever a port may throw: it is gone
  }
  public void Feed(byte[] data, int count) { Feed(data, count, Now); }
  public void Feed(byte[] data, int count, double atS) {  // bytes that came another way, and when
    long before = GoodLines;
    for (int i = 0; i < count; ++i) {
      if (data[i] != '\n' && line.Length <= LineMax) line.Append((char)data[i]);  // 256: bad
      if (data[i] != '\n') continue;
      if (joining) joining = false;  // of the first line we have but the end
      else if (line.Length <= LineMax && TakeLine(line.ToString())) ++GoodLines;
      else ++BadLines;
      line.Clear();
    }
    if (GoodLines == before) return;
    lastGood = atS;
    foreach (Field f in all) Follow(f);
  }
  public void Close() {
    Array.Clear(lamps, 0, lamps.Length);
    try {
      if (State() == PanelState.Fresh) SendLamps();
      else serial?.DiscardOutBuffer();  // a hung box would hold closing up
      writing?.Wait(50);
    } catch (Exception) {}  // it may be gone already
    Drop("closed");
  }
  void Drop(string why) {
    Trouble = address + ": " + why;
    try { serial?.Dispose(); tcp?.Close(); } catch (Exception) {}  // it may be unplugged
    serial = null; tcp = null; stream = null; writing = null; lastGood = -1;
  }
  void Open() {
    lastTry = Now; joining = true; Trouble = sent = ""; line.Clear();
    int colon = address.LastIndexOf(':');
    if (colon >= 0 && address.IndexOf('/') < 0) {
      tcp = new TcpClient { NoDelay = true };
      string host = address.Substring(0, colon).Replace("localhost", "127.0.0.1");
      connecting = tcp.ConnectAsync(host, int.Parse(address.Substring(colon + 1)));
    } else {
      serial = new SerialPort(address, Baud) { DtrEnable = true, RtsEnable = true };  // many wait
      serial.Open();
      serial.DiscardInBuffer();  // what waited before us is old
      stream = serial.BaseStream;
    }
  }
  int Waiting() {
    if (serial != null) return serial.BytesToRead;
    if (tcp.Client.Poll(0, SelectMode.SelectRead) && tcp.Available == 0)
      throw new EndOfStreamException("closed by the panel");
    return tcp.Available;
  }
  bool TakeLine(string text) {
    if (!shape.IsMatch(text)) return false;
    string[] texts = text.TrimEnd('\r').Split(',');
    var numbers = new int[all.Length];
    for (int i = 0; i < numbers.Length; ++i)
      if (!int.TryParse(texts[i], NumberStyles.Integer, plain, out numbers[i])) return false;
    for (int i = 0; i < numbers.Length; ++i) Take(all[i], numbers[i]);
    return true;
  }
  void Take(Field f, int number) {
    bool edge = GoodLines > 0 && (f.Value == 0) != (number == 0);
    f.Value = number;
    if (edge && f.Down) ++f.Pressed;
    if (edge && !f.Down) ++f.Released;
    if (!f.Learns) return;
    int least = Math.Min(number, Math.Min(f.Low, f.High));
    int most = Math.Max(number, Math.Max(f.Low, f.High));
    bool reversed = f.Low > f.High;
    f.Low = reversed ? most : least;
    f.High = reversed ? least : most;
  }
  void Follow(Field f) {  // lines that came together count as one: the filter wants times between
    f.Now = f.Value;
    if (f.Filter == null) return;
    f.Filter.Beta = f.Beta / Math.Max(1, Math.Abs((double)f.High - f.Low));
    f.Now = f.Filter.Filter(f.Value, lastGood);
  }
  static double Reach(double at, double from, double to, double deadFrom, double deadTo) {
    double begin = from + deadFrom * (to - from), end = to - deadTo * (to - from);
    return begin == end ? 0 : Math.Max(0, Math.Min(1, (at - begin) / (end - begin)));
  }
  void SendLamps() {
    string text = string.Join(",", Array.ConvertAll(lamps, lamp => lamp.ToString(plain)));
    bool due = text != "" && (text != sent || Now - lastSent >= RefreshS);
    if (Busy() || !due || lastGood < 0) return;  // bytes can upset a board that boots
    sent = text; lastSent = Now;
    Send(text);
  }
  bool Busy() {  // the port takes no more now
    if (writing != null && !writing.IsCompleted) return true;
    writing?.GetAwaiter().GetResult();  // throws if the port was gone
    return false;
  }
  void Send(string text) {
    byte[] data = Encoding.ASCII.GetBytes(text + "\n"); Stream port = stream;
    writing = Task.Factory.StartNew(() => port.Write(data, 0, data.Length), ownThread);
  }
}
