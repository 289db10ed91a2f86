// Draws the charts of a page from the JSON beside each of them: ink first, the
// range as a band, the median as a line, limits dashed with their name, names
// at the curves instead of a legend, measurements as open circles, units on the
// axes. The table beside each chart holds the same numbers.
"use strict";
(() => {
  const colours = new Set(["charge", "wall", "room", "need", "product"]);
  const alike = { forecast: "product", band: "product" }; // a forecast of the product is the product's colour
  const dashes = ["", "7 3", "2 3", "9 3 2 3"];
  const shapes = ["circle", "square", "triangle", "diamond", "star"];
  const halo = { stroke: "var(--ground)", strokeWidth: 4, paintOrder: "stroke" };

  const colourOf = (key) => `var(--c-${colours.has(key) ? key : alike[key] || "need"})`;

  const writer = (comma) => (v) => {
    const s = String(Number(v.toPrecision(3))).replaceAll("-", "\u2212");
    return comma ? s.replace(".", ",") : s;
  };

  function rows(chart) {
    const out = [], take = (curve, x, low, mid, high) => { if (!chart.x.log || x > 0) out.push({ curve, x, low, mid, high }); };
    for (const c of chart.curves) c.x.forEach((x, i) => take(c, x, c.low[i], c.mid[i], c.high[i]));
    for (const p of chart.points) {
      if (!chart.curves.some((c) => c.key === p.key)) p.x.forEach((x, i) => take(p, x, p.y[i], p.y[i], p.y[i]));
    }
    return out;
  }

  const label = (axis) => (axis.unit ? `${axis.name} [${axis.unit}]` : axis.name);

  // Where a curve's name stands: above its band, at a place along it that keeps
  // the names of several curves apart.
  function names(data) {
    const things = [...new Set(data.map((d) => d.curve))], n = things.length;
    return things.map((c, i) => {
      const own = data.filter((d) => d.curve === c);
      if (own.length === 2) return own[i % 2]; // a straight line: its ends
      const from = Math.floor(own.length * (i + 0.3) / n), to = Math.floor(own.length * (i + 0.9) / n);
      return own.slice(from, to + 1).reduce((a, b) => (a && a.high >= b.high ? a : b), undefined);
    }).filter(Boolean);
  }

  // One curve as a band with its median, as the steps of a histogram, or, where
  // it was measured, as a thin line through open circles.
  function curve(chart, c, i, own) {
    const colour = colourOf(c.key), dash = dashes[i % dashes.length] || null;
    const dotted = c.dots || chart.points.some((p) => p.key === c.key);
    const marks = [Plot.areaY(own, chart.bars ? { x: "x", y1: 0, y2: "mid", fill: colour, fillOpacity: 0.16 } : { x: "x", y1: "low", y2: "high", fill: colour, fillOpacity: 0.16 })];
    marks.push(Plot.lineY(own, { x: "x", y: "mid", stroke: colour, strokeWidth: dotted ? 1.2 : 2, strokeDasharray: dash }));
    if (c.dots) marks.push(circles(own, colour, "circle"));
    return marks;
  }
  const radius = (n) => (n > 40 ? 2.4 : 4.5);
  const circles = (own, colour, symbol) => Plot.dot(own, { x: "x", y: "mid", symbol, r: radius(own.length), stroke: colour, strokeWidth: own.length > 40 ? 1.2 : 1.8, fill: "var(--ground)" });

  // Names of ticks that would run into one another are left out, the ticks stay.
  function sparse(ticks, room, at, text) {
    let free = -Infinity;
    return new Set(ticks.filter((t) => {
      if (at(t) * room < free) return false;
      free = at(t) * room + 14 + 7 * text(t).length;
      return true;
    }));
  }

  function axes(chart, write, width, along) {
    const x = { label: label(chart.x), labelAnchor: "center", labelArrow: "none", tickFormat: write, ticks: Math.round(width / 90) };
    const y = { label: label(chart.y), labelArrow: "none", tickFormat: write, ticks: 5, grid: false, nice: true };
    const marks = [], quiet = { stroke: "var(--line)", strokeWidth: 1 };
    const name = { label: x.label, labelAnchor: "center", labelArrow: "none", fontVariant: null };
    if (chart.xticks) { // a plotting paper brings its own lines
      const shown = sparse(chart.xticks, width - 62, (t) => along(t.at), (t) => t.label);
      marks.push(Plot.ruleX(chart.xticks, { x: "at", ...quiet }), Plot.axisX(chart.xticks.map((t) => t.at), { ...name, text: (v, i) => (shown.has(chart.xticks[i]) ? chart.xticks[i].label : "") }));
      Object.assign(x, { axis: null });
    } else if (chart.x.log) {
      // The sieves of the standard series stand on the axis, not powers of ten.
      const shown = sparse(chart.x.ticks, width - 62, along, write);
      marks.push(Plot.axisX(chart.x.ticks, { ...name, text: (v) => (shown.has(v) ? write(v) : "") }));
      Object.assign(x, { type: "log", axis: null });
    }
    if (chart.yticks) {
      marks.push(Plot.ruleY(chart.yticks, { y: "at", ...quiet }), Plot.axisY(chart.yticks.map((t) => t.at), { label: y.label, labelArrow: "none", fontVariant: null, text: (v, i) => chart.yticks[i].label }));
      Object.assign(y, { axis: null, nice: false });
    }
    return { x, y, marks };
  }

  function draw(box, chart, wide) {
    const data = rows(chart), write = writer(chart.comma);
    if (!data.length) return;
    const width = Math.max(280, wide || box.clientWidth);
    const height = wide ? 178 : Math.round(Math.min(chart.yticks ? 420 : 320, Math.max(chart.yticks ? 320 : 220, width * 0.5)));
    const edges = [...data.map((d) => d.x), ...(chart.xticks || []).map((t) => t.at)];
    const far = Math.max(...edges), near = Math.min(...edges);
    const along = (v) => (chart.x.log ? Math.log(v / near) / Math.log(far / near) : (v - near) / (far - near));
    const { x, y, marks } = axes(chart, write, width, along);
    if (chart.zero) marks.push(Plot.ruleY([0], { strokeOpacity: 0 }));
    chart.curves.forEach((c, i) => marks.push(...curve(chart, c, i, data.filter((d) => d.curve === c))));
    chart.points.forEach((p, i) => marks.push(circles(p.x.map((v, k) => ({ x: v, mid: p.y[k] })).filter((d) => !chart.x.log || d.x > 0), colourOf(p.key), shapes[i % shapes.length])));
    for (const l of chart.lines) {
      marks.push(Plot.ruleY([l.value], { stroke: "currentColor", strokeDasharray: "4 4", strokeWidth: 1.2 }));
      marks.push(Plot.text([l], { y: "value", text: "name", frameAnchor: "left", textAnchor: "start", lineAnchor: "bottom", dx: 4, dy: -2, lineWidth: (width - 70) / 13, fill: "currentColor", ...halo }));
    }
    const named = names(data);
    named.forEach((d, i) => {
      if (named.length === 1 && d.curve.name === chart.y.name) return; // the axis says it already
      const share = along(d.x), above = i % 2 === 0;
      marks.push(Plot.text([d], {
        x: "x", y: above ? "high" : "low", text: () => d.curve.name, dy: above ? -10 : 12, fontWeight: 650,
        textAnchor: share > 0.75 ? "end" : share < 0.2 ? "start" : "middle", fill: colourOf(d.curve.key), ...halo,
      }));
    });
    const svg = Plot.plot({
      className: "plot", width, height, marginLeft: chart.yticks ? 58 : 48, marginBottom: 42, marginTop: 26, marginRight: 14,
      x, y, color: { type: "identity" }, symbol: { type: "identity" }, marks,
    });
    svg.setAttribute("aria-hidden", "true");
    box.replaceChildren(svg);
    if (svg.getBoundingClientRect().width === 0) return; // not shown: nothing has a place yet
    svg.querySelectorAll('[aria-label$="axis label"] text').forEach((t) => within(svg, t));
    apart(svg, named, chart, data);
  }

  // Where something of a picture stands, in the picture's own pixels: one wider than its
  // place is shown smaller.
  function boxOn(svg, e) {
    const frame = svg.getBoundingClientRect(), r = e.getBoundingClientRect(), k = svg.viewBox.baseVal.width / frame.width;
    return { left: (r.left - frame.left) * k, right: (r.right - frame.left) * k, top: (r.top - frame.top) * k, bottom: (r.bottom - frame.top) * k };
  }

  // An axis' name that is longer than its axis moves in from the edge, and is written
  // smaller where the whole picture is too narrow for it.
  function within(svg, t) {
    const room = boxOn(svg, svg).right - 4, was = boxOn(svg, t), long = was.right - was.left;
    if (long > room) t.style.fontSize = `${Math.max(9, parseFloat(getComputedStyle(t).fontSize) * room / long)}px`;
    const r = boxOn(svg, t), by = Math.max(0, 2 - r.left) - Math.max(0, r.right - 2 - room);
    if (by) t.setAttribute("transform", `${t.getAttribute("transform") || ""} translate(${by},0)`);
  }

  // Where ink lies that a label would hide [px]: along curves, at points, on limits.
  function inked(svg, chart, data) {
    const x = svg.scale("x").apply, y = svg.scale("y").apply, spots = [], step = 3;
    const round = (a, b, r) => spots.push([a, b], [a - r, b], [a + r, b], [a, b - r], [a, b + r]); // a circle is wider than its middle
    for (const c of chart.curves) {
      if (c.dots) data.filter((d) => d.curve === c).forEach((d, i, own) => round(x(d.x), y(d.mid), radius(own.length)));
      data.filter((d) => d.curve === c).map((d) => [x(d.x), y(d.mid)]).forEach(([a, b], i, own) => {
        const [p, q] = own[i - 1] || [a, b], n = Math.ceil(Math.hypot(a - p, b - q) / step) || 1;
        for (let k = 1; k <= n; k++) spots.push([p + (a - p) * k / n, q + (b - q) * k / n]);
      });
    }
    for (const p of chart.points) p.x.forEach((v, k) => { if (!chart.x.log || v > 0) round(x(v), y(p.y[k]), radius(p.x.length)); });
    const [near, far] = svg.scale("x").range;
    for (const l of chart.lines) for (let at = near; at < far; at += step) spots.push([at, y(l.value)]);
    return spots;
  }

  // Ways a curve's name can go: above, below and at either side of places along it, the
  // nearest first, and farther off where curves run close together. A way is how far right
  // and down [px]; r is where the name stands.
  function alongCurve(svg, own, r) {
    const x = svg.scale("x").apply, y = svg.scale("y").apply, all = [], each = Math.ceil(own.length / 24);
    own.filter((d, i) => i % each === 0).forEach((d) => {
      const px = x(d.x), mid = (r.left + r.right) / 2, over = y(d.high) - 4 - r.bottom, under = y(d.low) + 4 - r.top;
      for (const dx of [px - mid, px + 4 - r.left, px - 4 - r.right]) {
        for (const off of [0, 12, 24, 36]) all.push([dx, over - off], [dx, under + off]);
      }
    });
    return all.sort(([a, b], [c, d]) => Math.hypot(a, b) - Math.hypot(c, d));
  }

  // A limit's name stands above or below its line, from its left end to its right; where
  // another limit or a curve is in the way, higher up.
  function alongLimit(svg, limit, r) {
    const at = svg.scale("y").apply(limit.value), right = svg.scale("x").range[1] - r.right, all = [];
    for (const up of [0, 14, 28, 42, 56]) {
      for (const share of [0, 0.2, 0.4, 0.6, 0.8, 1]) all.push([share * right, at + 1 - r.bottom - up], ...(up ? [] : [[share * right, at - 1 - r.top]]));
    }
    return all;
  }

  // Labels are moved apart, and off curves, points and limits where there is room: of the
  // ways that keep clear of other labels the first that hides the least.
  function apart(svg, curves, chart, data) {
    const frame = boxOn(svg, svg), placed = [], spots = inked(svg, chart, data), boxOf = (t) => boxOn(svg, t);
    const hits = (a) => placed.some((b) => a.left < b.right && b.left < a.right && a.top < b.bottom - 2 && b.top < a.bottom - 2);
    const hides = (a) => spots.filter(([x, y]) => x > a.left - 1 && x < a.right + 1 && y > a.top + 3 && y < a.bottom - 3).length;
    const settle = (t, r, ways, floor) => {
      let best = { dx: 0, dy: 0, box: r, hidden: Infinity };
      for (const [dx, dy] of ways) {
        const box = { left: r.left + dx, right: r.right + dx, top: r.top + dy, bottom: r.bottom + dy };
        if (box.left < 0 || box.right > frame.right || box.top < 0 || box.bottom > floor || hits(box)) continue;
        const hidden = hides(box);
        if (hidden < best.hidden) best = { dx, dy, box, hidden };
        if (hidden === 0) break;
      }
      if (best.dx || best.dy) t.setAttribute("transform", `${t.getAttribute("transform") || ""} translate(${best.dx},${best.dy})`);
      placed.push(best.box);
    };
    const bare = (text) => text.replace(/\s/g, ""); // a long name stands in two lines
    const texts = [...svg.querySelectorAll("text")], taken = new Set();
    const own = texts.filter((t) => t.closest('[aria-label="text"]')); // an axis may be named alike
    const pairs = (list, name) => list.map((of) => [own.find((t) => !taken.has(t) && bare(name(of)) === bare(t.textContent) && taken.add(t)), of]).filter(([t]) => t);
    const named = pairs(curves, (d) => d.curve.name), limits = pairs(chart.lines, (l) => l.name);
    texts.filter((t) => !taken.has(t)).forEach((t) => placed.push(boxOf(t)));
    // limits first, the lowest before the next: a curve has more places for its name
    limits.sort(([, a], [, b]) => a.value - b.value).forEach(([t, of]) => { const r = boxOf(t); settle(t, r, alongLimit(svg, of, r), frame.bottom); });
    const [floor] = svg.scale("y").range; // below it a curve's name would be taken for the axis's
    named.forEach(([t, of]) => { const r = boxOf(t); settle(t, r, [[0, 0], ...alongCurve(svg, data.filter((d) => d.curve === of.curve), r)], floor); });
  }

  // Colours come from the page's tokens; a saved file has to carry them itself.
  function saved(svg) {
    const copy = svg.cloneNode(true), style = getComputedStyle(document.documentElement);
    copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
    const text = new XMLSerializer().serializeToString(copy)
      .replace(/var\((--[a-z-]+)\)/g, (_, name) => style.getPropertyValue(name).trim())
      .replaceAll("currentColor", style.getPropertyValue("--ink").trim());
    return new Blob([text], { type: "image/svg+xml" });
  }

  function ready(figure) {
    const source = document.getElementById(figure.dataset.chart), box = figure.querySelector(".draw");
    if (!source || !box || figure.dataset.drawn) return;
    figure.dataset.drawn = "yes";
    let chart = JSON.parse(source.textContent), width = 0;
    figure.addEventListener("chart-changed", () => { chart = JSON.parse(source.textContent); draw(box, chart); });
    new ResizeObserver(() => {
      if (Math.abs(box.clientWidth - width) < 2) return;
      width = box.clientWidth;
      draw(box, chart);
    }).observe(box);
    // Paper has room for three pictures side by side.
    addEventListener("beforeprint", () => draw(box, chart, 360));
    addEventListener("afterprint", () => draw(box, chart));
    const button = figure.querySelector(".save-svg");
    if (!button) return;
    button.hidden = false;
    button.addEventListener("click", () => {
      const a = document.createElement("a");
      a.href = URL.createObjectURL(saved(box.querySelector("svg")));
      a.download = `${chart.key}.svg`;
      a.click();
      setTimeout(() => URL.revokeObjectURL(a.href), 1000);
    });
  }

  const all = () => document.querySelectorAll("figure[data-chart]").forEach(ready);
  all();
  document.addEventListener("page-renewed", all);
})();
