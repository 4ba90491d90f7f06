// The JavaScript panel reader in the same test program as probe.cpp, which says what it does.
// An address that begins with "stream " is opened here, as a game would open a port by other means.
"use strict";
const fs = require("fs");
const net = require("net");
const path = require("path");
const { OneEuro, PanelReader } = require(
  path.join(__dirname, "../../protocol/readers/panel_reader.cjs"));

const FRAME_MS = 16, PIECE_BYTES = 23, HOUR_LINES = 180000;

const indices = (count) => Array.from({ length: count }, (_, i) => i);
const valuesOf = (panel, fields) => indices(fields).map((i) => panel.value(i)).join(",");

function judgeLines(fields, file) {
  const data = fs.readFileSync(file), verdicts = [];
  const each = new PanelReader(fields, "none");
  for (let at = 0; at < data.length;) {
    const end = data.indexOf("\n", at) + 1, before = each.goodLines;
    each.feed(data.subarray(at, end));
    verdicts.push(each.goodLines > before ? "good " + valuesOf(each, fields) : "bad");
    at = end;
  }
  const all = new PanelReader(fields, "none");
  for (let at = 0; at < data.length; at += PIECE_BYTES) {
    all.feed(data.subarray(at, at + PIECE_BYTES));
  }
  const edges = indices(fields).map((i) => `${all.pressed(i)}/${all.released(i)}`);
  verdicts.push(["total", all.goodLines, all.badLines, valuesOf(all, fields), ...edges].join(" "));
  console.log(verdicts.join("\n"));
}

function shape(file) {
  const said = [(0.5).toLocaleString().replace(/\d/g, "")];
  let panel, euro, fields;
  const make = {
    reader: (count) => { panel = new PanelReader(fields = count, "none"); },
    calibrate: (...numbers) => panel.calibrate(...numbers),
    centre: (...numbers) => panel.centre(...numbers),
    dead_ends: (...numbers) => panel.deadEnds(...numbers),
    learn_ends: (field) => panel.learnEnds(field),
    smooth: (...numbers) => panel.smooth(...numbers),
    euro: (...numbers) => { euro = new OneEuro(...numbers); },
    sample: (atS, value) => said.push(euro.filter(value, atS).toFixed(12)),
  };
  for (const order of fs.readFileSync(file, "ascii").trim().split("\n")) {
    const [verb, ...words] = order.split(" ");
    if (verb === "line") {
      panel.feed(Buffer.from(words[1] + "\n"), Number(words[0]));
      said.push(indices(fields).map((i) => panel.axis(i).toFixed(12)).join(" "));
    } else make[verb](...words.map(Number));
  }
  console.log(said.join("\n"));
}

function liveAnHour(flag) {
  const panel = new PanelReader(3, "none");
  panel.learnEnds(0);
  panel.centre(1, 512, 0.1);
  panel.smooth(1);
  for (let n = 0; n < HOUR_LINES; ++n) {
    if (n === HOUR_LINES / 10) {
      global.gc();
      console.log("warm");
    }
    const good = `${n % 1024},${n * 7 % 1024},1`;
    panel.feed(Buffer.from((n % 10 ? good : "x".repeat(300)) + "\n"), n / 50);
  }
  global.gc();
  console.log("done", panel.goodLines);
  const wait = () => { if (fs.existsSync(flag)) setTimeout(wait, FRAME_MS); };
  wait();
}

function play(fields, address, flag, lamps) {
  const [, host, port] = /^stream (.*):(\d+)$/.exec(address) ?? [];
  const panel = new PanelReader(fields, host ? () => net.connect(Number(port), host) : address);
  const frame = () => {
    if (!fs.existsSync(flag)) return panel.close();
    const begun = performance.now();
    panel.poll();
    lamps[0] = Math.floor(panel.value(0) / 4);
    lamps[1] = panel.down(1) ? 255 : 0;
    panel.setLamps(lamps);
    panel.witness("in play", panel.value(0), panel.down(1), 0.25);
    const took = Math.floor((performance.now() - begun) * 1000);
    console.log(took, panel.state(), panel.goodLines, panel.badLines, valuesOf(panel, fields),
                panel.pressed(1), panel.released(1), panel.trouble);
    setTimeout(frame, FRAME_MS);
  };
  frame();
}

const [verb, ...words] = process.argv.slice(2);
if (verb === "lines") {
  for (let i = 0; i < words.length; i += 2) judgeLines(Number(words[i]), words[i + 1]);
} else if (verb === "shape") shape(words[0]);
else if (verb === "hour") liveAnHour(words[0]);
else {
  const lamps = Array(Number(words[3])).fill(Number(words[4]));
  play(Number(words[0]), words[1], words[2], lamps);
}
