// Panel reader for JavaScript (Node 18 or newer): one file to copy into a game that is played on a
// panel of buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") over TCP or, on
// Linux and macOS, a serial port; other line shapes are left to the game. The same reader exists in
// C++, Python, C#, GDScript and Lua.
// SPDX-License-Identifier: 0BSD  (use, change and pass on freely; no notice needed, no warranty)
//
//   const { PanelReader } = require("./panel_reader.cjs");
//   const panel = new PanelReader(5, "/dev/ttyACM0");  // 5 numbers a line; or "127.0.0.1:7000"; or
//   function frame() {                  // no address: UNDERSTUDY_PORT, else UNDERSTUDY_TCP
//     panel.poll();                     // once a frame; takes all lines that came, never waits
//     if (panel.state() !== "fresh") speed = 0;            // "stale" or "silent": neutral
//     else speed = panel.value(0) / 1023;                  // the newest value of the first field
//     for (let n = panel.pressed(2); n > 0; --n) ring();   // a press between frames is not lost
//     panel.setLamps([255, doorOpen ? 255 : 0]);           // sent on change and every 0.5 s
//   }                                   // at the end panel.close(): all lamps 0, and closes
//
// A pot, slide or stick as the game wants it; without these calls axis() is value / 1023:
//   panel.calibrate(0, 12, 1010);       // the numbers at its two ends; axis(0) is 0 to 1
//   panel.smooth(0);                    // calm at rest, quick in motion
//   speed = panel.axis(0);
"use strict";
const { spawnSync } = require("child_process");
const fs = require("fs");
const net = require("net");

const LINE_MAX = 255, READS_MAX = 16, RETRY_S = 0.5, REFRESH_S = 0.5, WITNESS_S = 0.25;
const now = () => performance.now() / 1000;

// The One Euro filter (Casiez, Roussel and Vogel, CHI 2012): a low-pass filter whose cutoff rises
// with speed. Times in seconds; the first sample passes as it is.
class OneEuro {
  #timeS = null;
  value = 0;
  rate = 0;

  constructor(minCutoffHz = 1, beta = 0, rateCutoffHz = 1) {  // beta: Hz more per unit a second
    Object.assign(this, { minCutoffHz, beta, rateCutoffHz });
  }

  filter(sample, nowS) {
    if (this.#timeS === null) [this.value, this.#timeS] = [sample, nowS];
    const stepS = nowS - this.#timeS;
    if (stepS > 0) {
      const share = (cutoffHz) => 1 / (1 + 1 / (2 * Math.PI * cutoffHz * stepS));
      this.rate += share(this.rateCutoffHz) * ((sample - this.value) / stepS - this.rate);
      const cutoffHz = this.minCutoffHz + this.beta * Math.abs(this.rate);
      this.value += share(cutoffHz) * (sample - this.value);
      this.#timeS = nowS;
    }
    return this.value;
  }
}

class PanelReader {
  baud = 115200;        // change both before the first poll, if at all
  staleAfterMs = 250;   // a hung box keeps its port open: stale means hands off
  goodLines = 0;
  badLines = 0;         // wrong field count, or not whole numbers
  trouble = "";         // why there is no connection; empty when there is one
  #where; #witnessed = false; #fields; #lamps = []; #port = null; #lastGood = null;
  #lastTry = -RETRY_S; #lastSent = 0; #lastSeen = -WITNESS_S;
  #joining = false; #line = ""; #outgoing = Buffer.alloc(0); #sent = "";

  // `where` may also be a function that opens the port by other means and returns its stream, such
  // as () => new SerialPort({ path: "COM5", baudRate: 115200 }) of the package serialport.
  constructor(fields, where = "") {
    const field = { value: 0, pressed: 0, released: 0, activeLow: false, low: 0, high: 1023,
                    middle: null, dead: 0, deadEnds: 0, learns: false, beta: 0, filter: null,
                    at: 0 };
    this.#fields = Array.from({ length: fields }, () => ({ ...field }));
    const names = ["UNDERSTUDY_PORT", "UNDERSTUDY_TCP"].slice(process.platform === "win32" ? 1 : 0);
    const known = names.map((name) => process.env[name]).filter(Boolean);
    this.#where = where || known[0] || "no address and no UNDERSTUDY_PORT";
    this.#witnessed = known.includes(this.#where);  // no other address is surely a panel of ours
  }

  activeLow(field) { this.#fields[field].activeLow = true; }  // a button that sends 0 when down
  value(field) { return this.#fields[field].value; }          // 0 until the first good line
  down(field) { return (this.value(field) === 0) === this.#fields[field].activeLow; }
  pressed(field) { return this.#fields[field].pressed; }      // edges in all the lines
  released(field) { return this.#fields[field].released; }    // that the last poll took
  setLamps(lamps) { this.#lamps = [...lamps]; }

  // What axis() makes of a field: 0 to 1 between the numbers that the box gives at its two ends
  // (low above high: reversed), or, once it has a middle, -1 to 1 with 0 there. Before the first
  // good line it is 0.
  calibrate(field, low, high) { Object.assign(this.#fields[field], { low, high }); }
  // dead: this share of each side is 0 too
  centre(field, middle, dead = 0) { Object.assign(this.#fields[field], { middle, dead }); }
  deadEnds(field, dead) { this.#fields[field].deadEnds = dead; }  // this share is full too
  learnEnds(field) { this.#fields[field].learns = true; }         // they widen to what comes

  smooth(field, minCutoffHz = 1, beta = 5) {  // beta: less lag in motion
    Object.assign(this.#fields[field], { filter: new OneEuro(minCutoffHz), beta });
  }

  axis(field) {
    const { at, low, high, middle, dead, deadEnds } = this.#fields[field];
    if (this.goodLines === 0) return 0;
    if (middle === null) return reach(at, low, high, deadEnds, deadEnds);
    return reach(at, middle, high, dead, deadEnds) - reach(at, middle, low, dead, deadEnds);
  }

  // Tells Understudy what the game makes of its input, for tests: a word for what it is doing and
  // the numbers it acts on. Call it once a frame; it speaks 4 times a second, and only to the
  // address in UNDERSTUDY_PORT or UNDERSTUDY_TCP, never to a box.
  witness(state, ...numbers) {
    const can = this.#witnessed && this.#port && this.#lastGood !== null && !this.#outgoing.length;
    if (!can || now() - this.#lastSeen < WITNESS_S) return;
    const age = Math.round((now() - this.#lastGood) * 1000);
    const word = state.replace(/[^!-~]/g, "_") || "-";
    const words = ["#seen", age, this.#port.waiting(), word,
                   ...numbers.map((number) => Number(Number(number).toPrecision(10)))];
    this.#outgoing = Buffer.from(words.join(" ") + "\n");
    this.#lastSeen = now();
    this.#dropping(() => this.#flush());
  }

  state() {  // silent: no good line on this connection yet
    if (this.#lastGood === null) return "silent";
    return now() - this.#lastGood > this.staleAfterMs / 1000 ? "stale" : "fresh";
  }

  poll() {  // connects if need be, takes all that arrived, sends lamps
    for (const field of this.#fields) field.pressed = field.released = 0;
    if (!this.#port && now() - this.#lastTry < RETRY_S) return;
    this.#dropping(() => {
      if (!this.#port) this.#open();
      for (let reads = 0; reads < READS_MAX; ++reads) {
        const data = this.#port.read();
        if (data === null) break;
        this.feed(data);
      }
      this.#sendLamps();
    });
  }

  feed(data, atS = now()) {  // takes bytes that came another way, and when they came
    const before = this.goodLines;
    const lines = (this.#line + data.toString("latin1")).split("\n");
    this.#line = lines.pop().slice(0, LINE_MAX + 1);  // one too many: a bad line
    for (const line of lines) {
      if (this.#joining) this.#joining = false;  // of the first line we have but the end
      else if (line.length <= LINE_MAX && this.#takeLine(line)) ++this.goodLines;
      else ++this.badLines;
    }
    if (this.goodLines === before) return;
    this.#lastGood = atS;
    for (const f of this.#fields) {  // lines that came together count as one, the newest: the
      f.at = f.value;                // filter wants the time between
      if (!f.filter) continue;
      f.filter.beta = f.beta / Math.max(1, Math.abs(f.high - f.low));
      f.at = f.filter.filter(f.value, atS);
    }
  }

  close() {
    this.#lamps.fill(0);
    if (this.#port && this.state() === "fresh") this.#dropping(() => this.#sendLamps());
    this.#drop("closed");
  }

  #dropping(work) {
    try {
      work();
    } catch (error) {
      this.#drop(error.message);
    }
  }

  #drop(why) {
    this.trouble = `${typeof this.#where === "function" ? "stream" : this.#where}: ${why}`;
    this.#port?.close();
    this.#port = this.#lastGood = null;
  }

  #open() {
    this.#lastTry = now();
    this.#joining = true;
    this.#line = this.#sent = this.trouble = "";
    this.#outgoing = Buffer.alloc(0);
    const [, host, port] = /^([\d.]+|localhost):(\d+)$/.exec(this.#where) ?? [];
    if (typeof this.#where === "function") this.#port = new StreamPort(this.#where());
    else if (!host) this.#port = new FilePort(this.#where, this.baud);
    else {
      const digits = host.replace("localhost", "127.0.0.1");  // no names: a look-up may wait
      const socket = net.connect({ host: digits, port: Number(port), noDelay: true });
      this.#port = new StreamPort(socket);
    }
  }

  #takeLine(line) {
    if (!/^-?\d+(,-?\d+)*\r?$/.test(line)) return false;
    const numbers = line.split(",").map(Number);
    if (numbers.length !== this.#fields.length) return false;
    if (numbers.some((number) => number < -(2 ** 31) || number >= 2 ** 31)) return false;
    this.#fields.forEach((f, i) => {
      const edge = this.goodLines > 0 && (f.value === 0) !== (numbers[i] === 0);
      f.value = numbers[i] + 0;  // -0 is 0
      if (edge) ++f[this.down(i) ? "pressed" : "released"];
      if (!f.learns) return;
      const ends = [Math.min(f.low, f.high, f.value), Math.max(f.low, f.high, f.value)];
      [f.low, f.high] = f.low > f.high ? ends.reverse() : ends;
    });
    return true;
  }

  #sendLamps() {
    const text = this.#lamps.map(Math.trunc).join(",");
    this.#flush();
    const due = text !== "" && (text !== this.#sent || now() - this.#lastSent >= REFRESH_S);
    if (!due || this.#lastGood === null || this.#outgoing.length) return;  // a board may be booting
    this.#sent = text;
    this.#lastSent = now();
    this.#outgoing = Buffer.from(text + "\n");
    this.#flush();
  }

  #flush() {  // what the port does not take now goes another time
    if (!this.#outgoing.length) return;
    this.#outgoing = this.#outgoing.subarray(this.#port.write(this.#outgoing));
  }
}

function reach(at, from, to, deadFrom, deadTo) {  // 0 to 1, without its dead ends
  const begin = from + deadFrom * (to - from), end = to - deadTo * (to - from);
  return begin === end ? 0 : Math.max(0, Math.min(1, (at - begin) / (end - begin)));
}

class FilePort {  // a serial port or pseudo-terminal of Linux or macOS
  #file;

  constructor(path, baud) {
    const { O_RDWR, O_NOCTTY, O_NONBLOCK } = fs.constants;
    this.#file = fs.openSync(path, O_RDWR | O_NOCTTY | O_NONBLOCK);
    const of = process.platform === "darwin" ? "-f" : "-F";
    const set = spawnSync("stty", [of, path, "raw", "-echo", "clocal", String(baud)]);
    try {
      if (set.status !== 0) throw new Error(`is no serial port, or has no ${baud} baud`);
      for (let reads = 0; reads < 64 && this.read(); ++reads);  // what waited before us is old
    } catch (error) {
      this.close();
      throw error;
    }
  }

  read() {  // null: nothing now
    const bytes = Buffer.alloc(4096);
    const size = unlessFull(() => fs.readSync(this.#file, bytes), null);
    if (size === 0) throw new Error("closed by the panel");
    return size && bytes.subarray(0, size);
  }

  write(data) { return unlessFull(() => fs.writeSync(this.#file, data), 0); }
  waiting() { return 0; }  // cannot be asked
  close() { fs.closeSync(this.#file); }
}

function unlessFull(work, otherwise) {
  try {
    return work();
  } catch (error) {
    if (error.code === "EAGAIN") return otherwise;
    throw error;
  }
}

class StreamPort {  // a socket, or any other stream of both directions
  #stream; #gone = "";

  constructor(stream) {
    this.#stream = stream;
    stream.on("error", (error) => { this.#gone = error.message; });
    stream.on("close", () => { this.#gone ||= "closed by the panel"; });
    stream.on("end", () => { this.#gone ||= "closed by the panel"; });
    stream.on("readable", () => {});  // it reads ahead, but waits for poll() to take it
  }

  read() {
    const data = this.#stream.read();
    if (data === null && this.#gone) throw new Error(this.#gone);
    return data;
  }

  write(data) {
    if (this.#stream.writableLength > 0) return 0;  // else lines would pile up in here
    this.#stream.write(data);
    return data.length;
  }

  waiting() { return this.#stream.readableLength; }

  close() {
    this.#stream.end(() => this.#stream.destroy());
    this.#stream.unref?.();
  }
}

module.exports = { OneEuro, PanelReader };
