// By Node's net over TCP: reads a panel's lines into OUT, and writes LINES to it: the first once a
// line has come, each other one ten lines later.
//   kinds_client.cjs HOST:PORT OUT [LINES...]
"use strict";
const fs = require("fs");
const net = require("net");
const readline = require("readline");

const [address, outName, ...toWrite] = process.argv.slice(2);
const at = address.lastIndexOf(":");
const link = net.connect(Number(address.slice(at + 1)), address.slice(0, at));
const out = fs.openSync(outName, "w");
let count = 0;
readline.createInterface({ input: link }).on("line", (line) => {
  fs.writeSync(out, line + "\n");
  if (toWrite.length > 0 && ++count % 10 === 1) link.write(toWrite.shift() + "\n");
});
link.on("close", () => process.exit(1));
