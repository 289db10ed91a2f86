// Draws the charts of a page from the JSON beside each of them: ink first, the
// range as a band, the median as a line, limits dashed with their name, names
// at the curves instead of a legend, units on the axes. The table beside each
// chart holds the same numbers.
"use strict";
(() => {
  const colours = new Set(["charge", "wall", "room", "need", "product"]);
  const dashes = ["", "7 3", "2 3", "9 3 2 3"];

  const colourOf = (curve) => `var(--c-${colours.has(curve.key) ? curve.key : "need"})`;

  const writer = (comma) => (v) => {
    const s = String(Number(v.toPrecision(3)));
    return comma ? s.replace(".", ",") : s;
  };

  function rows(chart) {
    const out = [];
    for (const c of chart.curves) {
      c.x.forEach((x, i) => {
        if (!chart.x.log || x > 0) out.push({ curve: c, x, low: c.low[i], mid: c.mid[i], high: c.high[i] });
      });
    }
    return out;
  }

  const label = (axis) => (axis.unit ? `${axis.name} [${axis.unit}]` : axis.name);

  // Where a curve's name stands: above its band, at a place along it that keeps
  // the names of several curves apart.
  function names(chart, data) {
    const n = chart.curves.length;
    return chart.curves.map((c, i) => {
      const own = data.filter((d) => d.curve === c);
      const from = Math.floor(own.length * (i + 0.3) / n), to = Math.floor(own.length * (i + 0.9) / n);
      return own.slice(from, to + 1).reduce((a, b) => (a && a.high >= b.high ? a : b), undefined);
    }).filter(Boolean);
  }

  function draw(box, chart, wide) {
    const width = Math.max(280, wide || box.clientWidth), height = wide ? 178 : Math.round(Math.min(320, Math.max(220, width * 0.5)));
    if (!chart.curves.some((c) => c.x.length)) return;
    const data = rows(chart), write = writer(chart.comma);
    const marks = chart.zero ? [Plot.ruleY([0], { strokeOpacity: 0 })] : [];
    chart.curves.forEach((c, i) => {
      const own = data.filter((d) => d.curve === c);
      if (c.dots) {
        marks.push(Plot.lineY(own, { x: "x", y: "mid", stroke: colourOf(c), strokeWidth: 1.2, strokeDasharray: dashes[i % dashes.length] || null }));
        marks.push(Plot.dot(own, { x: "x", y: "mid", r: 4.5, stroke: colourOf(c), strokeWidth: 1.8, fill: "var(--ground)" }));
        return;
      }
      marks.push(Plot.areaY(own, { x: "x", y1: "low", y2: "high", fill: colourOf(c), fillOpacity: 0.16 }));
      marks.push(Plot.lineY(own, { x: "x", y: "mid", stroke: colourOf(c), strokeWidth: 2, strokeDasharray: dashes[i % dashes.length] || null }));
    });
    for (const l of chart.lines) {
      marks.push(Plot.ruleY([l.value], { stroke: "currentColor", strokeDasharray: "4 4", strokeWidth: 1.2 }));
      marks.push(Plot.text([l], { y: "value", text: "name", frameAnchor: "left", textAnchor: "start", dx: 4, dy: -7, fill: "currentColor", stroke: "var(--ground)", strokeWidth: 4, paintOrder: "stroke" }));
    }
    const far = Math.max(...data.map((d) => d.x)), near = Math.min(...data.map((d) => d.x));
    const along = (v) => (chart.x.log ? Math.log(v / near) / Math.log(far / near) : (v - near) / (far - near));
    names(chart, data).forEach((d, i) => {
      const share = along(d.x), above = i % 2 === 0;
      marks.push(Plot.text([d], {
        x: "x", y: above ? "high" : "low", text: () => d.curve.name, dy: above ? -8 : 10, fontWeight: 650,
        textAnchor: share > 0.75 ? "end" : share < 0.2 ? "start" : "middle",
        fill: colourOf(d.curve), stroke: "var(--ground)", strokeWidth: 4, paintOrder: "stroke",
      }));
    });
    const x = { label: label(chart.x), labelAnchor: "center", labelArrow: "none", tickFormat: write, ticks: Math.round(width / 90) };
    if (chart.x.log) {
      // The sieves of the standard series stand on the axis, not powers of ten.
      // Names that would run into one another are left out, their ticks stay.
      let free = -Infinity;
      const named = new Set(chart.x.ticks.filter((v) => {
        const at = along(v) * (width - 62);
        if (at < free) return false;
        free = at + 14 + 7 * write(v).length;
        return true;
      }));
      marks.push(Plot.axisX(chart.x.ticks, { label: x.label, labelAnchor: "center", labelArrow: "none", text: (v) => (named.has(v) ? write(v) : ""), fontVariant: null }));
      Object.assign(x, { type: "log", axis: null });
    }
    const svg = Plot.plot({
      className: "plot", width, height, marginLeft: 48, marginBottom: 42, marginTop: 26, marginRight: 14,
      x, y: { label: label(chart.y), labelArrow: "none", tickFormat: write, ticks: 5, grid: false, nice: true },
      color: { type: "identity" }, marks,
    });
    svg.setAttribute("aria-hidden", "true");
    box.replaceChildren(svg);
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
