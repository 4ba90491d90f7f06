// Panel reader for C# 6 and newer (.NET, Mono): one file to copy into a game that is played on a
// panel of buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") over a serial port
// or TCP; other line shapes are left to the game. The same reader exists in C++ and Python.
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
using System;
using System.Diagnostics;
using System.Globalization;
using System.IO;
using System.IO.Ports;
using System.Net.Sockets;
using System.Text;
using System.Text.RegularExpressions;
using System.Threading.Tasks;

public enum PanelState { Silent, Stale, Fresh }  // Silent: no good line on this connection yet

public sealed class PanelReader : IDisposable {
  public int Baud = 115200;         // change both before the first Poll, if at all
  public int StaleAfterMs = 250;    // a hung box keeps its port open: stale means hands off
  public long GoodLines, BadLines;  // bad: wrong field count, or not whole numbers
  public string Trouble = "";       // why there is no connection; empty when there is one

  const int LineMax = 255, ReadsMax = 16, RetryMs = 500, RefreshMs = 500;
  const TaskCreationOptions ownThread = TaskCreationOptions.LongRunning;  // else Mono can hang
  static readonly CultureInfo plain = CultureInfo.InvariantCulture;
  readonly string address;
  readonly bool[] activeLow;
  readonly int[] values, pressed, released;
  readonly Regex shape;
  readonly Stopwatch clock = Stopwatch.StartNew();
  readonly StringBuilder line = new StringBuilder();
  readonly byte[] bytes = new byte[4096];
  int[] lamps = {};
  long lastTry = -RetryMs, lastGood = -1, lastSent;  // -1: no good line on this connection
  bool joining; string sent = "";
  SerialPort serial;
  TcpClient tcp;
  Stream stream;
  Task connecting, writing;
  long Now { get { return clock.ElapsedMilliseconds; } }
  public PanelReader(int fields, string address = "") {
    values = new int[fields]; pressed = new int[fields]; released = new int[fields];
    activeLow = new bool[fields];
    shape = new Regex("^-?[0-9]+(,-?[0-9]+){" + (fields - 1) + "}\r?\\z");
    foreach (string name in new[] {"UNDERSTUDY_PORT", "UNDERSTUDY_TCP"})
      if (string.IsNullOrEmpty(address)) address = Environment.GetEnvironmentVariable(name);
    this.address = string.IsNullOrEmpty(address) ? "no address and no UNDERSTUDY_PORT" : address;
  }
  public void ActiveLow(int field) { activeLow[field] = true; }  // a button that sends 0 when down
  public int Value(int field) { return values[field]; }          // 0 until the first good line
  public bool Down(int field) { return (values[field] == 0) == activeLow[field]; }
  public int Pressed(int field) { return pressed[field]; }       // edges in all the lines
  public int Released(int field) { return released[field]; }     // that the last Poll took
  public void SetLamps(params int[] levels) { lamps = (int[])levels.Clone(); }
  public void Dispose() { Close(); }
  public PanelState State() {
    if (lastGood < 0) return PanelState.Silent;
    return Now - lastGood > StaleAfterMs ? PanelState.Stale : PanelState.Fresh;
  }
  public void Poll() {  // connects if need be, takes all that arrived, sends lamps
    Array.Clear(pressed, 0, pressed.Length); Array.Clear(released, 0, released.Length);
    bool open = serial != null || tcp != null;
    if (!open && Now - lastTry < RetryMs) return;
    try {
      if (!open) Open();
      if (stream == null && !connecting.IsCompleted) return;
      if (stream == null) { connecting.GetAwaiter().GetResult(); stream = tcp.GetStream(); }
      for (int reads = 0, size; reads < ReadsMax && (size = Waiting()) > 0; ++reads)
        Feed(bytes, stream.Read(bytes, 0, Math.Min(size, bytes.Length)));
      SendLamps();
    } catch (Exception error) { Drop(error.Message); }  // whatever a port may throw: it is gone
  }
  public void Feed(byte[] data, int count) {  // takes bytes that came another way than by the port
    for (int i = 0; i < count; ++i) {
      if (data[i] != '\n' && line.Length <= LineMax) line.Append((char)data[i]);  // 256: bad
      if (data[i] != '\n') continue;
      if (joining) joining = false;  // of the first line we have but the end
      else if (line.Length <= LineMax && TakeLine(line.ToString())) ++GoodLines;
      else ++BadLines;
      line.Clear();
    }
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
    var numbers = new int[values.Length];
    for (int i = 0; i < numbers.Length; ++i)
      if (!int.TryParse(texts[i], NumberStyles.Integer, plain, out numbers[i])) return false;
    lastGood = Now;
    for (int i = 0; i < numbers.Length; ++i) {
      bool edge = GoodLines > 0 && (values[i] == 0) != (numbers[i] == 0);
      values[i] = numbers[i];
      if (edge) (Down(i) ? pressed : released)[i] += 1;
    }
    return true;
  }
  void SendLamps() {
    if (writing != null && !writing.IsCompleted) return;  // the port takes no more now
    writing?.GetAwaiter().GetResult();                    // throws if the port was gone
    string text = string.Join(",", Array.ConvertAll(lamps, lamp => lamp.ToString(plain)));
    bool due = text != "" && (text != sent || Now - lastSent >= RefreshMs);
    if (!due || lastGood < 0) return;  // bytes can upset a board that boots
    sent = text; lastSent = Now;
    byte[] data = Encoding.ASCII.GetBytes(text + "\n"); Stream port = stream;
    writing = Task.Factory.StartNew(() => port.Write(data, 0, data.Length), ownThread);
  }
}
