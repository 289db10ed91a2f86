// The sheet of a sieving while it is filled in: the running total against what
// was put on, the curve of what passes, and a pasted column that spreads over
// the sieves. The sheet says and keeps everything without this file.
"use strict";
(() => {
  const live = document.querySelector(".stack-live"), group = document.querySelector(".on-sieves");
  if (!live || !group) return;
  const figure = live.querySelector("figure"), source = document.getElementById(figure.dataset.chart);
  const chart = JSON.parse(source.textContent);
  const fields = [...group.querySelectorAll("input.amount")];
  const named = (path) => document.querySelector(`[name="${path}"]`);
  const perUnit = { "": 1, g: 1, kg: 1000, mg: 0.001 };

  // What was typed in grams; null for nothing, NaN for what is no mass.
  function grams(field) {
    const m = /^\s*(\d*[.,]?\d+|\d+[.,])\s*(kg|g|mg|)\s*$/.exec(field ? field.value : "");
    if (!field || !field.value.trim()) return null;
    return m ? Number(m[1].replace(",", ".")) * perUnit[m[2]] : NaN;
  }
  function net(field) {
    const full = grams(field), gross = named("gross");
    if (full === null || !gross || !gross.checked) return full;
    const tare = grams(named(field.name.replace("mass_kg", "tare_kg").replace("pan_kg", "pan_tare_kg")));
    return tare === null ? NaN : full - tare;
  }

  const total = document.createElement("p");
  total.className = "running-total";
  total.setAttribute("role", "status");
  group.append(total);
  group.after(live);

  const shown = (v) => {
    const s = Math.abs(v) >= 100 ? v.toFixed(0) : String(Number(v.toFixed(2)));
    return chart.comma ? s.replace(".", ",") : s;
  };

  function renew() {
    const rows = fields.map((f) => ({ opening: Number(f.dataset.opening) || 0, mass: net(f) })).filter((r) => r.mass !== null);
    const sum = rows.reduce((a, r) => a + r.mass, 0), charge = grams(named("charge_kg"));
    const mass = (v) => `${shown(v)}\u00a0g`, off = sum - charge;
    if (Number.isNaN(sum)) total.textContent = worded("no_number");
    else if (!rows.length) total.textContent = "";
    else if (!charge) total.textContent = worded("so_far", { sum: mass(sum) });
    else {
      const parted = worded(off < 0 ? "missing" : "too_much", { off: mass(Math.abs(off)), share: `${shown(100 * Math.abs(off) / charge)}\u00a0%` });
      total.textContent = `${worded("so_far_of", { sum: mass(sum), charge: mass(charge) })}: ${parted}`;
    }
    const known = rows.filter((r) => r.opening > 0);
    live.hidden = !(sum > 0) || known.length < 2;
    if (live.hidden) return;
    const c = chart.curves[0];
    c.x = [], c.mid = [];
    let above = 0;
    for (const r of known) {
      above += r.mass;
      c.x.push(r.opening * 1000);
      c.mid.push(100 * (1 - above / sum));
    }
    c.x.reverse(), c.mid.reverse();
    c.low = c.high = c.mid;
    chart.x.ticks = c.x.filter((_, i) => i % Math.ceil(c.x.length / 9) === 0);
    source.textContent = JSON.stringify(chart);
    figure.dispatchEvent(new Event("chart-changed"));
  }

  // Enter goes to the next sieve, as on a calculator; the last one sends.
  group.addEventListener("keydown", (e) => {
    const i = fields.indexOf(e.target);
    if (e.key !== "Enter" || i < 0 || i === fields.length - 1) return;
    e.preventDefault();
    fields[i + 1].focus();
  });
  group.addEventListener("paste", (e) => {
    const i = fields.indexOf(e.target), lines = e.clipboardData.getData("text").trim().split(/\r?\n/);
    if (i < 0 || lines.length < 2) return;
    e.preventDefault();
    lines.slice(0, fields.length - i).forEach((line, k) => { fields[i + k].value = line.split("\t").at(-1).trim(); });
    renew();
  });
  document.addEventListener("input", renew);
  renew();
})();
