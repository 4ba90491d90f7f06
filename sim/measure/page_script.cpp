// The page's script: draws each chart into the place that is kept for it, and lets a reader zoom
// all charts of a seat together and read the numbers under the pointer. Plain, without libraries.
#include "sim/measure/page_parts.h"

namespace understudy {

const std::string_view kPageScript = R"js(
"use strict";
(function () {
  const WIDTH = 1000, HEIGHT = 100;
  const make = (tag, parent, name) => {
    const it = document.createElement(tag);
    if (name) it.className = name;
    parent.append(it);
    return it;
  };
  const draw = (parent, name) => {
    const it = document.createElementNS("http://www.w3.org/2000/svg", "path");
    it.setAttribute("class", name);
    parent.append(it);
    return it;
  };
  const seconds = (ns, step) => {
    const places = step >= 1e9 ? 0 : step >= 1e8 ? 1 : step >= 1e7 ? 2 : step >= 1e6 ? 3 : 6;
    return (ns / 1e9).toFixed(places);
  };
  const length = ns => ns >= 1e9 ? +(ns / 1e9).toFixed(3) + " s" : +(ns / 1e6).toFixed(3) + " ms";
  const niceStep = (span, count) => {
    let step = Math.pow(10, Math.floor(Math.log10(span / count)));
    for (const factor of [1, 2, 5, 10]) if (span / (step * factor) <= count) return step * factor;
    return step * 10;
  };

  // Least and greatest of all spans that reach into [from, to); what was there before holds.
  function extremes(chart, from, to) {
    const values = chart.values;
    let first = Math.floor((from - chart.begin) / chart.span);
    let last = Math.ceil((to - chart.begin) / chart.span) - 1;
    if (last < 0 || first >= values.length + 1) return null;
    first = Math.max(first, 0);
    last = Math.min(last, values.length - 1);
    let least = Infinity, most = -Infinity, holds = true;
    for (let i = first; i <= last; ++i) {
      const value = values[i];
      if (value === null) continue;
      const low = typeof value === "number" ? value : value[0];
      const high = typeof value === "number" ? value : value[1];
      if (low < least) least = low;
      if (high > most) most = high;
      if (i === first) holds = false;
    }
    if (holds && chart.kind === "level") {
      const before = chart.held[Math.min(first, values.length) - 1];
      if (before !== undefined && before !== null) {
        least = Math.min(least, before);
        most = Math.max(most, before);
      }
    }
    return least > most ? null : [least, most];
  }
  // Lines a second in [from, to), moved to where all of it was recorded.
  function rate(chart, from, to) {
    const end = chart.begin + chart.span * chart.values.length;
    if (to <= chart.begin || from >= end) return null;
    const wide = to - from;
    if (to > end) { from = Math.max(end - wide, chart.begin); to = end; }
    if (from < chart.begin) { from = chart.begin; to = Math.min(from + wide, end); }
    const first = Math.max(Math.floor((from - chart.begin) / chart.span), 0);
    const last = Math.min(Math.max(Math.ceil((to - chart.begin) / chart.span), first + 1),
                          chart.values.length);
    const value = (chart.sums[last] - chart.sums[first]) / ((last - first) * chart.span / 1e9);
    return [value, value];
  }
  function prepare(chart) {
    if (chart.kind === "rate") {
      chart.sums = [0];
      for (const value of chart.values) chart.sums.push(chart.sums[chart.sums.length - 1] + value);
    }
    chart.held = [];
    let held = null;
    for (const value of chart.values) {
      if (value !== null) held = typeof value === "number" ? value : value[1];
      chart.held.push(held);
    }
  }

  function Seat(article) {
    const data = JSON.parse(article.querySelector("script.data").textContent);
    const whole = [data.begin, Math.max(data.end, data.begin + 1e6)];
    let view = whole.slice();
    let fit = false;  // the height of what slides is that of what is seen
    const charts = [];
    let finest = 1e6;
    for (const chart of data.charts) {
      const place = article.querySelector('[data-chart="' + chart.id + '"]');
      if (!place) continue;
      if (!chart.values.length) { place.remove(); continue; }
      prepare(chart);
      finest = Math.max(finest, chart.kind === "level" ? chart.span : 0);
      const strip = place.querySelector(".strip");
      const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
      svg.setAttribute("viewBox", "0 0 " + WIDTH + " " + HEIGHT);
      svg.setAttribute("preserveAspectRatio", "none");
      strip.append(svg);
      const one = {chart, strip, grid: draw(svg, "grid"), marks: draw(svg, "mark"),
                   promise: draw(svg, "promise"),
                   line: draw(svg, chart.kind === "points" ? "points" : "line"),
                   at: make("div", strip, "at"), chosen: make("div", strip, "chosen"),
                   read: place.querySelector(".read"), labels: []};
      charts.push(one);
      listen(one);
    }
    const tools = addTools();
    let waiting = false;

    function addTools() {
      const first = article.querySelector(".chart");
      if (!first) return null;
      const row = document.createElement("div");
      row.className = "tools";
      first.before(row);
      const button = (words, title, act) => {
        const it = make("button", row);
        it.type = "button";
        it.textContent = words;
        it.title = title;
        it.setAttribute("aria-label", title);
        it.addEventListener("click", act);
        return it;
      };
      button("All", "The whole recording", () => show(whole[0], whole[1]));
      const fitting = button("Fit", "As high as what is seen, not as what is promised", () => {
        fit = !fit;
        fitting.setAttribute("aria-pressed", fit);
        drawAll();
      });
      fitting.setAttribute("aria-pressed", fit);
      button("+", "Nearer", () => zoom(0.5, 0.5));
      button("\u2212", "Farther", () => zoom(2, 0.5));
      button("\u2190", "Earlier", () => move(-0.5));
      button("\u2192", "Later", () => move(0.5));
      return make("span", row);
    }
    function show(from, to) {
      const least = Math.min(finest * 16, whole[1] - whole[0]);
      let span = Math.min(Math.max(to - from, least), whole[1] - whole[0]);
      from = Math.min(Math.max(from, whole[0]), whole[1] - span);
      view = [from, from + span];
      if (!waiting) requestAnimationFrame(() => { waiting = false; drawAll(); });
      waiting = true;
    }
    function zoom(factor, share) {
      const span = (view[1] - view[0]) * factor;
      const around = view[0] + (view[1] - view[0]) * share;
      show(around - span * share, around + span * (1 - share));
    }
    function move(share) {
      const by = (view[1] - view[0]) * share;
      show(view[0] + by, view[1] + by);
    }
    function shareAt(one, event) {
      const box = one.strip.getBoundingClientRect();
      return Math.min(Math.max((event.clientX - box.left) / box.width, 0), 1);
    }
    function timeAt(share) { return view[0] + (view[1] - view[0]) * share; }

    function listen(one) {
      let begun = null;
      one.strip.addEventListener("wheel", event => {
        if (event.ctrlKey) return;
        event.preventDefault();
        if (Math.abs(event.deltaX) > Math.abs(event.deltaY)) move(event.deltaX / 1000);
        else zoom(Math.pow(1.0015, event.deltaY), shareAt(one, event));
        point(shareAt(one, event));
      }, {passive: false});
      one.strip.addEventListener("pointerdown", event => {
        if (event.button !== 0) return;
        begun = shareAt(one, event);
        one.strip.setPointerCapture(event.pointerId);
      });
      one.strip.addEventListener("pointermove", event => {
        const share = shareAt(one, event);
        point(share);
        if (begun === null) return;
        for (const other of charts) {
          other.chosen.style.display = "block";
          other.chosen.style.left = Math.min(begun, share) * 100 + "%";
          other.chosen.style.width = Math.abs(share - begun) * 100 + "%";
        }
      });
      const end = event => {
        for (const other of charts) other.chosen.style.display = "none";
        if (begun === null) return;
        const share = shareAt(one, event);
        const from = Math.min(begun, share), to = Math.max(begun, share);
        begun = null;
        if (event.type === "pointerup" && to - from > 0.005) show(timeAt(from), timeAt(to));
      };
      one.strip.addEventListener("pointerup", end);
      one.strip.addEventListener("pointercancel", end);
      one.strip.addEventListener("pointerleave", () => { if (begun === null) point(null); });
      one.strip.addEventListener("dblclick", () => show(whole[0], whole[1]));
    }
    // What the charts say at a share of their width.
    function point(share) {
      const near = share === null ? undefined : data.marks.find(
        mark => Math.abs(mark[0] - timeAt(share)) < (view[1] - view[0]) / 150);
      for (const one of charts) {
        one.at.style.display = share === null ? "none" : "block";
        if (share === null) { one.read.textContent = ""; continue; }
        one.at.style.left = share * 100 + "%";
        const column = (view[1] - view[0]) / WIDTH;
        const t = timeAt(share);
        const found = over(one.chart, t - column / 2, t + column / 2);
        const words = !found ? "nothing" : text(found[0]) === text(found[1]) ? text(found[1])
                                                   : text(found[0]) + " to " + text(found[1]);
        one.read.textContent = seconds(t, column) + " s: " + words +
                               (near ? " (mark: " + near[1] + ")" : "");
      }
    }
    function text(value) {
      return Number.isInteger(value) ? String(value) : value.toFixed(Math.abs(value) < 100 ? 1 : 0);
    }
    function over(chart, from, to) {
      if (chart.kind !== "rate") return extremes(chart, from, to);
      const least = 1e9;   // a rate is over a second at least
      const middle = (from + to) / 2, half = Math.max((to - from) / 2, least / 2);
      return rate(chart, middle - half, middle + half);
    }
    function label(one, name, words, style) {
      const it = make("span", one.strip, name);
      it.textContent = words;
      Object.assign(it.style, style);
      one.labels.push(it);
    }
    function drawAll() {
      for (const one of charts) drawChart(one);
      const all = view[0] === whole[0] && view[1] === whole[1];
      if (tools) tools.textContent = (all ? "all " : "") + length(view[1] - view[0]) +
                                     (all ? "" : " of " + length(whole[1] - whole[0]));
    }
    function drawChart(one) {
      const chart = one.chart;
      const columns = [];
      const width = (view[1] - view[0]) / WIDTH;
      let low = Infinity, high = -Infinity;
      for (let x = 0; x < WIDTH; ++x) {
        const found = over(chart, view[0] + x * width, view[0] + (x + 1) * width);
        columns.push(found);
        if (!found) continue;
        low = Math.min(low, found[0]);
        high = Math.max(high, found[1]);
      }
      if (chart.kind === "level" && fit && low <= high) { low -= 1; high += 1; }
      else if (chart.kind === "level") { low = chart.low; high = chart.high; }
      else { low = 0; high = Math.max(high, chart.within || 0, 1) * 1.08; }
      if (low === high) { low -= 1; high += 1; }
      const y = value => (1 - (value - low) / (high - low)) * (HEIGHT - 8) + 4;
      one.line.setAttribute("d", chart.kind === "points" ? points(columns, y) : line(columns, y));
      one.promise.setAttribute("d", chart.within
        ? "M0 " + y(chart.within).toFixed(2) + "H" + WIDTH : "");
      drawGrid(one, low, high, y);
    }
    function line(columns, y) {
      let path = "", before = null;
      for (let x = 0; x < WIDTH; ++x) {
        const found = columns[x];
        if (!found) { before = null; continue; }
        const top = y(found[1]).toFixed(2), bottom = y(found[0]).toFixed(2);
        path += (before ? "L" : "M") + (x + 0.5) + " " + top;
        if (top !== bottom) path += "V" + bottom;
        before = found;
      }
      return path;
    }
    function points(columns, y) {
      let path = "";
      for (let x = 0; x < WIDTH; ++x) {
        const found = columns[x];
        if (found) path += "M" + (x + 0.5) + " " + y(0).toFixed(2) + "V" + y(found[1]).toFixed(2);
      }
      return path;
    }
    function drawGrid(one, low, high, y) {
      for (const old of one.labels.splice(0)) old.remove();
      const span = view[1] - view[0];
      const wide = one.strip.clientWidth || WIDTH;
      const step = niceStep(span, Math.max(Math.floor(wide / 90), 2));
      let grid = "", marks = "";
      for (let t = Math.ceil(view[0] / step) * step; t <= view[1]; t += step) {
        const share = (t - view[0]) / span;
        grid += "M" + (share * WIDTH).toFixed(2) + " 0V" + HEIGHT;
        const place = share < 0.03 ? "tick first" : share > 0.97 ? "tick last" : "tick";
        label(one, place, seconds(t, step) + (place === "tick last" ? " s" : ""),
              {left: share * 100 + "%"});
      }
      for (const value of one.chart.kind === "level" ? [low, high] : [high / 1.08]) {
        grid += "M0 " + y(value).toFixed(2) + "H" + WIDTH;
        const at = y(value);
        label(one, "scale", text(Math.round(value)),
              {top: at > 50 ? "auto" : "3px", bottom: at > 50 ? "3px" : "auto"});
      }
      for (const mark of data.marks)
        if (mark[0] >= view[0] && mark[0] <= view[1])
          marks += "M" + ((mark[0] - view[0]) / span * WIDTH).toFixed(2) + " 0V" + HEIGHT;
      one.grid.setAttribute("d", grid);
      one.marks.setAttribute("d", marks);
    }
    drawAll();
    addEventListener("resize", drawAll);
    addEventListener("beforeprint", drawAll);
  }
  for (const article of document.querySelectorAll(".seat")) Seat(article);
})();
)js";

}  // namespace understudy
