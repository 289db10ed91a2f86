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
    const s = String(Number(v.toPrecision(3)));
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
  const circles = (own, colour, symbol) => Plot.dot(own, { x: "x", y: "mid", symbol, r: own.length > 40 ? 2.4 : 4.5, stroke: colour, strokeWidth: own.length > 40 ? 1.2 : 1.8, fill: "var(--ground)" });

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
    apart(svg, named.map((d) => d.curve.name), chart.lines.map((l) => l.name));
  }

  // Labels that run over one another are moved apart: a curve's name along its curve, a
  // limit's to the other side of its line or to the other end of it.
  function apart(svg, curves, limits) {
    const texts = [...svg.querySelectorAll("text")], frame = svg.getBoundingClientRect(), placed = [];
    const hits = (a) => placed.some((b) => a.left < b.right && b.left < a.right && a.top < b.bottom - 2 && b.top < a.bottom - 2);
    const settle = (t, ways) => {
      const was = t.getAttribute("transform") || "", free = (dx, dy) => {
        t.setAttribute("transform", `${was} translate(${dx},${dy})`);
        const r = t.getBoundingClientRect();
        return r.left >= frame.left && r.right <= frame.right && r.top >= frame.top && !hits(r);
      };
      if (!ways.some(([dx, dy]) => free(dx, dy))) t.setAttribute("transform", was);
      placed.push(t.getBoundingClientRect());
    };
    const bare = (text) => text.replace(/\s/g, ""); // a long name stands in two lines
    const named = (list) => texts.filter((t) => list.some((name) => bare(name) === bare(t.textContent)));
    const moved = [...named(curves), ...named(limits)];
    texts.filter((t) => !moved.includes(t)).forEach((t) => placed.push(t.getBoundingClientRect()));
    named(curves).forEach((t) => settle(t, [[0, 0], [0, -14], [44, 0], [-44, 0], [0, 26], [44, 26], [-44, 26]]));
    named(limits).forEach((t) => {
      const r = t.getBoundingClientRect(), right = frame.right - r.right - 16, below = r.height + 4;
      settle(t, [[0, 0], [0, below], [right, 0], [right, below], [right / 2, 0], [right / 2, below], [0, -14], [0, -28]]);
    });
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
