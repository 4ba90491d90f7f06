// The page's style sheet: ink on warm ruled paper, index cards with a red line under the heading;
// the same on dark paper, and in black on white where it is printed. The inks are the window's.
#include "sim/measure/page_parts.h"

namespace understudy {

const std::string_view kPageStyle = R"css(
:root {
  --paper: #f4edde; --rule: #e3e3da; --card: #fbf7ec; --edge: #c4b8a0; --margin: #d6968c;
  --text: #2b2620; --faint: #6b6154; --wrong: #9e2616; --right: #1e5c3a; --amber: #8a5408;
  --strip: #fffdf6; --grid: #dfe5e2; --shadow: rgba(80, 64, 36, .16);
  --ink0: #1b5482; --ink1: #8c3c14; --ink2: #146955; --ink3: #7a2864;
  --ink4: #60560a; --ink5: #4a3e94; --ink6: #2c6418; --ink7: #962038;
}
@media (prefers-color-scheme: dark) { :root {
  --paper: #211d18; --rule: #2a2721; --card: #2b2620; --edge: #4d4437; --margin: #8c4f46;
  --text: #ece4d3; --faint: #b0a48f; --wrong: #ff9582; --right: #8fd0a8; --amber: #e8b25c;
  --strip: #24201a; --grid: #373630; --shadow: rgba(0, 0, 0, .35);
  --ink0: #7fb9e6; --ink1: #e8a07a; --ink2: #6fcab2; --ink3: #dd93c8;
  --ink4: #cfc268; --ink5: #b0a6f2; --ink6: #92cc7c; --ink7: #f08fa2;
} }
* { box-sizing: border-box; }
html { background: var(--paper); }
body {
  margin: 0; color: var(--text); line-height: 1.5;
  font: 16px/1.5 Cabin, "Gill Sans", "Gill Sans MT", Candara, Optima, "Segoe UI", sans-serif;
  background: repeating-linear-gradient(var(--paper) 0 25px, var(--rule) 25px 26px);
}
main { max-width: 1080px; margin: 0 auto; padding: 24px 24px 48px; }
.recording { margin: 0 0 14px; }
h1 { font-size: 30px; line-height: 1.2; margin: 10px 0 2px; overflow-wrap: anywhere; }
.recording p { margin: 0; color: var(--faint); }
.recording .remark { color: var(--amber); }
h2 { font-size: 21px; margin: 18px 0 10px; overflow-wrap: anywhere; }
h2 small { font-weight: normal; color: var(--faint); font-size: 17px; }
.card {
  background: var(--card); border: 1px solid var(--edge); margin: 0 0 20px;
  padding: 0 18px 16px; box-shadow: 3px 3px 0 var(--shadow);
}
h3 {
  font-size: 18px; margin: 0 -18px 12px; padding: 9px 18px 7px;
  border-bottom: 1px solid var(--margin);
}
.hint { color: var(--faint); font-size: 14px; margin: 0 0 10px; }
.caution {
  border: 1px solid var(--amber); border-left-width: 6px; background: var(--card);
  color: var(--amber); padding: 9px 14px; margin: 0 0 12px; font-weight: 600;
}
.chart { margin: 0 0 12px; --line: var(--ink0); }
.ink0 { --line: var(--ink0); } .ink1 { --line: var(--ink1); } .ink2 { --line: var(--ink2); }
.ink3 { --line: var(--ink3); } .ink4 { --line: var(--ink4); } .ink5 { --line: var(--ink5); }
.ink6 { --line: var(--ink6); } .ink7 { --line: var(--ink7); }
figcaption {
  display: flex; flex-wrap: wrap; gap: 0 14px; align-items: baseline; font-size: 15px;
  margin-bottom: 3px;
}
figcaption b { color: var(--line); font-weight: 600; }
figcaption .words { color: var(--faint); margin-left: auto; font-size: 14px; }
figcaption .read { font-variant-numeric: tabular-nums; min-height: 1.5em; }
.strip {
  position: relative; height: 120px; background: var(--strip); border: 1px solid var(--edge);
  touch-action: pan-y; cursor: crosshair; user-select: none; -webkit-user-select: none;
  margin-bottom: 21px;
}
.low .strip { height: 58px; }
.strip svg { position: absolute; inset: 0; width: 100%; height: 100%; display: block; }
.strip path { vector-effect: non-scaling-stroke; fill: none; }
.strip .line { stroke: var(--line); stroke-width: 1.4; stroke-linejoin: round; }
.strip .points { stroke: var(--line); stroke-width: 3; }
.strip .grid { stroke: var(--grid); stroke-width: 1; }
.strip .mark { stroke: var(--margin); stroke-width: 1; stroke-dasharray: 3 3; }
.strip .promise { stroke: var(--wrong); stroke-width: 1; stroke-dasharray: 6 4; }
.strip .at {
  position: absolute; top: 0; bottom: 0; width: 1px; background: var(--faint); display: none;
  pointer-events: none;
}
.strip .chosen {
  position: absolute; top: 0; bottom: 0; background: var(--line); opacity: .16; display: none;
  pointer-events: none;
}
.strip span.tick {
  position: absolute; top: 100%; transform: translateX(-50%); font-size: 12px; line-height: 18px;
  color: var(--faint); white-space: nowrap; pointer-events: none;
}
.strip span.tick.first { transform: none; } .strip span.tick.last { transform: translateX(-100%); }
.strip span.scale {
  position: absolute; left: 5px; font-size: 12px; line-height: 14px; color: var(--faint);
  background: var(--strip); padding: 0 2px; pointer-events: none;
}
.tools { display: flex; gap: 6px; margin: 0 0 12px; align-items: center; flex-wrap: wrap; }
.tools button {
  font: inherit; font-size: 14px; color: var(--text); background: var(--strip); cursor: pointer;
  border: 1px solid var(--edge); padding: 3px 12px; min-width: 34px;
}
.tools button:hover, .tools button:focus-visible { border-color: var(--text); }
.tools button[aria-pressed=true] { background: var(--edge); }
.tools span { color: var(--faint); font-size: 14px; margin-left: 8px; }
.wide { overflow-x: auto; margin: 18px 0 4px; }
.leads { margin: 14px 0 0; }
table {
  border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; font-size: 15px;
}
table.narrow { width: auto; min-width: 60%; }
th, td { text-align: right; padding: 5px 10px; border-bottom: 1px solid var(--rule); }
th:first-child, td:first-child { text-align: left; padding-left: 2px; }
td:last-child, th:last-child { padding-right: 2px; }
td { white-space: nowrap; }
.words-last th:last-child, .words-last td:last-child { text-align: left; padding-left: 18px; }
thead th {
  font-weight: 600; font-size: 13px; line-height: 1.25; color: var(--faint);
  border-bottom: 1px solid var(--edge); vertical-align: bottom;
}
tbody th { font-weight: normal; }
.compared td, .compared thead th { min-width: 92px; }
.compared td, .compared tbody th { padding-top: 2px; padding-bottom: 2px; }
.compared tbody th b { display: inline-block; padding-top: 10px; }
pre {
  font: 14px/1.45 "Courier Prime", "Courier New", Courier, monospace; background: var(--strip);
  border: 1px solid var(--edge); padding: 10px 12px; margin: 8px 0; overflow-x: auto;
}
.wrong { color: var(--wrong); font-weight: 600; }
footer { color: var(--faint); font-size: 13px; margin-top: 26px; max-width: 76ch; }
@media (max-width: 640px) { main { padding: 12px 10px 32px; } .card { padding: 0 12px 12px; }
  h3 { margin: 0 -12px 10px; padding: 8px 12px 6px; } }
@page { size: A4; margin: 15mm 14mm; }
@media print {
  :root {
    --paper: #fff; --rule: #ddd; --card: #fff; --edge: #999; --margin: #c08078; --text: #000;
    --faint: #444; --wrong: #9e2616; --amber: #7a4a06; --strip: #fff; --grid: #ddd;
    --ink0: #1b5482; --ink1: #8c3c14; --ink2: #146955; --ink3: #7a2864;
    --ink4: #60560a; --ink5: #4a3e94; --ink6: #2c6418; --ink7: #962038;
  }
  html, body { background: #fff; }
  body { font-size: 10.5pt; }
  main { max-width: none; padding: 0; }
  .card { box-shadow: none; border: 0; padding: 0; margin: 0 0 6mm; }
  h3 { margin: 0 0 3mm; padding: 0 0 1mm; font-size: 13pt; break-after: avoid; }
  h2, .leads, thead { break-after: avoid; }
  .chart, tr, pre, .caution { break-inside: avoid; }
  .wide { overflow: visible; break-inside: avoid; margin-top: 3mm; }
  table { font-size: 9pt; } thead th { font-size: 8pt; } th, td { padding: 1mm 1.6mm; }
  .strip { height: 23mm; margin-bottom: 18px; } .low .strip { height: 10mm; }
  .chart { margin-bottom: 2mm; }
  .tools, .hint, .strip .at, .strip .chosen { display: none !important; }
  figcaption .read { display: none; }
}
)css";

}  // namespace understudy
