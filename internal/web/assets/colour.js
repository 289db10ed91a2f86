// The colour of a plastic from a photo of it beside a white card. The picture
// stays in the browser: it is drawn on a canvas, a small disc is averaged at each
// touch, and the plastic is held against the card in linear light (sRGB). The
// code field is the same without this file.
"use strict";
(() => {
  const box = document.querySelector(".picker"), code = document.querySelector('[name="rgb"]');
  if (!box || !code || !("createImageBitmap" in window)) return;
  box.hidden = false;
  const find = (what) => box.querySelector(what);
  const canvas = find("canvas"), pen = canvas.getContext("2d"), said = find(".picker-code"), warnings = find(".picker-warnings");
  const longest = 2000; // dots of the longer side, so that a phone keeps its memory
  const clean = document.createElement("canvas"), dots = clean.getContext("2d", { willReadFrequently: true });
  let touched = { card: [], plastic: [] }, cross = null, radius = 8;

  const linear = (v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
  const encoded = (l) => (l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055);
  const light = Array.from({ length: 256 }, (_, i) => linear(i / 255));
  const hex = (rgb) => "#" + rgb.map((l) => Math.round(255 * Math.min(1, Math.max(0, encoded(l)))).toString(16).padStart(2, "0")).join("");

  // The mean light of a disc, and how much of it is as bright as the picture goes.
  function disc(x, y) {
    const x0 = Math.max(0, x - radius), y0 = Math.max(0, y - radius);
    const w = Math.min(clean.width, x + radius + 1) - x0, h = Math.min(clean.height, y + radius + 1) - y0;
    const d = dots.getImageData(x0, y0, w, h).data, sum = [0, 0, 0];
    let n = 0, full = 0;
    for (let i = 0; i < w * h; i++) {
      const dx = x0 + i % w - x, dy = y0 + Math.floor(i / w) - y;
      if (dx * dx + dy * dy > radius * radius) continue;
      n++;
      if (Math.max(d[4 * i], d[4 * i + 1], d[4 * i + 2]) >= 254) full++;
      for (let k = 0; k < 3; k++) sum[k] += light[d[4 * i + k]];
    }
    return { x, y, light: sum.map((s) => s / n), full: full / n };
  }
  const mean = (list) => [0, 1, 2].map((k) => list.reduce((a, p) => a + p.light[k], 0) / list.length);

  function redraw() {
    pen.drawImage(clean, 0, 0);
    const ring = (x, y, colour, width, r) => { pen.beginPath(); pen.arc(x + 0.5, y + 0.5, r, 0, 2 * Math.PI); pen.strokeStyle = colour; pen.lineWidth = width; pen.stroke(); };
    const thick = Math.max(1, canvas.width / 400);
    for (const what of ["card", "plastic"]) for (const p of touched[what]) {
      ring(p.x, p.y, "#000", 3 * thick, radius + thick);
      ring(p.x, p.y, what === "card" ? "#fff" : "#ffd23c", 1.5 * thick, radius + thick);
    }
    if (cross && document.activeElement === canvas) for (const [colour, width] of [["#000", 3 * thick], ["#fff", thick]]) {
      pen.beginPath();
      pen.moveTo(cross.x - 3 * radius, cross.y + 0.5), pen.lineTo(cross.x + 3 * radius, cross.y + 0.5);
      pen.moveTo(cross.x + 0.5, cross.y - 3 * radius), pen.lineTo(cross.x + 0.5, cross.y + 3 * radius);
      pen.strokeStyle = colour, pen.lineWidth = width, pen.stroke();
    }
  }

  // What a person should know of the light before trusting the code.
  function doubts(card, plastic) {
    const list = [], most = Math.max(...card), least = Math.min(...card);
    if (touched.card.some((p) => p.full > 0.02)) list.push(worded("card_over"));
    if (most < 0.18) list.push(worded("card_dark"));
    if (least > 0 && most / least > 1.6) list.push(worded("card_coloured"));
    if (plastic && touched.plastic.some((p) => p.full > 0.02)) list.push(worded("plastic_over"));
    if (plastic && plastic.some((l, k) => l > card[k] * 1.02)) list.push(worded("plastic_brighter"));
    if (touched.card.length > 1) {
      const ls = touched.card.map((p) => Math.max(...p.light));
      if (Math.max(...ls) > 1.25 * Math.min(...ls)) list.push(worded("light_uneven"));
    }
    return list;
  }

  function reckon() {
    const card = touched.card.length ? mean(touched.card) : null, plastic = touched.plastic.length ? mean(touched.plastic) : null;
    for (const [what, m] of [["card", card], ["plastic", plastic]]) {
      const n = touched[what].length;
      find(`.p-${what}`).textContent = m ? worded(n === 1 ? "in_picture_once" : "in_picture", { code: hex(m), n }) : worded("not_touched");
    }
    warnings.replaceChildren(...(card ? doubts(card, plastic) : []).map((text) => Object.assign(document.createElement("li"), { textContent: text })));
    if (!card || !plastic || card.some((l) => l <= 0)) {
      said.textContent = card ? worded("touch_plastic") : worded("touch_card");
      return;
    }
    const found = hex(plastic.map((l, k) => l / card[k]));
    code.value = found;
    code.dispatchEvent(new Event("input", { bubbles: true }));
    const how = document.querySelector('[name="how"][value^="photo"]');
    if (how) how.checked = true;
    const swatch = document.createElement("span");
    swatch.className = "swatch";
    swatch.style.backgroundColor = found;
    said.replaceChildren(swatch, ` ${worded("plastic_is", { code: found })}`);
  }

  function take(x, y) {
    const what = find('[name="p-what"]:checked').value;
    touched[what].push(disc(x, y));
    // After the card comes the plastic.
    if (what === "card" && touched.card.length === 1 && !touched.plastic.length) find('[name="p-what"][value="plastic"]').checked = true;
    redraw(), reckon();
  }

  find("#p-file").addEventListener("change", async (e) => {
    const file = e.target.files[0];
    if (!file) return;
    try {
      const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
      const scale = Math.min(1, longest / Math.max(picture.width, picture.height));
      clean.width = canvas.width = Math.max(1, Math.round(picture.width * scale));
      clean.height = canvas.height = Math.max(1, Math.round(picture.height * scale));
      dots.imageSmoothingQuality = "high";
      dots.drawImage(picture, 0, 0, clean.width, clean.height);
      picture.close();
    } catch {
      find(".picker-work").hidden = true;
      e.target.insertAdjacentElement("afterend", Object.assign(document.createElement("p"), { className: "wrong", textContent: worded("no_picture") }));
      return;
    }
    box.querySelectorAll(".field > .wrong").forEach((p) => p.remove());
    radius = Math.max(3, Math.round(Math.max(canvas.width, canvas.height) / 100));
    find(".picker-work").hidden = false;
    again();
  });
  function again() {
    touched = { card: [], plastic: [] };
    cross = { x: Math.floor(canvas.width / 2), y: Math.floor(canvas.height / 2) };
    find('[name="p-what"][value="card"]').checked = true;
    redraw(), reckon();
  }
  find(".p-again").addEventListener("click", again);

  canvas.addEventListener("click", (e) => {
    const r = canvas.getBoundingClientRect();
    const within = (v, most) => Math.min(most - 1, Math.max(0, Math.floor(v)));
    cross = { x: within((e.clientX - r.left) * canvas.width / r.width, canvas.width), y: within((e.clientY - r.top) * canvas.height / r.height, canvas.height) };
    take(cross.x, cross.y);
  });
  canvas.addEventListener("keydown", (e) => {
    const step = e.shiftKey ? 1 : Math.max(1, Math.round(canvas.width / 50));
    const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
    if (by) {
      cross = { x: Math.min(canvas.width - 1, Math.max(0, cross.x + by[0] * step)), y: Math.min(canvas.height - 1, Math.max(0, cross.y + by[1] * step)) };
      redraw();
    } else if (e.key === "Enter" || e.key === " ") take(cross.x, cross.y);
    else return;
    e.preventDefault();
  });
  canvas.addEventListener("focus", redraw);
  canvas.addEventListener("blur", redraw);
})();
