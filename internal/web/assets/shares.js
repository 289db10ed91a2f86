// Colours picked instead of typed: a list of codes with shares becomes rows of a
// picker, a dial and a button, and a single code gets a picker beside it. The
// text fields stay what is sent, and are all there is without this file.
"use strict";
(() => {
  const code = /^#[0-9a-f]{6}$/i;
  const element = (tag, properties = {}, ...children) => {
    const e = Object.assign(document.createElement(tag), properties);
    e.append(...children);
    return e;
  };

  // Bare numbers and percent can be dialled; masses stay text.
  function read(text) {
    const rows = [];
    const rest = text.replace(/#([0-9a-f]{6})[\s:=]*(\d+(?:[.,]\d+)?)?\s*%?[\s,;]*/gi, (_, c, n) => {
      rows.push({ code: `#${c.toLowerCase()}`, share: n === undefined ? null : Number(n.replace(",", ".")) });
      return "";
    });
    if (rest.trim() || !rows.length) return null;
    const bare = rows.every((r) => r.share === null);
    if (!bare && rows.some((r) => r.share === null)) return null;
    return rows.map((r) => ({ code: r.code, share: bare ? 100 / rows.length : r.share }));
  }
  const short = (v) => String(Number(v.toPrecision(3)));

  function shares(area) {
    const box = element("div", { className: "share-rows" });
    const text = element("details", { className: "share-text" }, element("summary", { textContent: worded("same_as_text") }));
    const add = element("button", { type: "button", textContent: worded("add_colour") });
    const lots = [...area.form.querySelectorAll('input[type="checkbox"][name="lot"]')];
    let rows = null;
    area.before(box, add, text);
    text.append(area);

    const write = () => {
      area.value = rows.map((r) => `${r.code} ${short(r.share)}`).join(", ");
      area.dispatchEvent(new Event("input", { bubbles: true }));
    };
    function draw() {
      const most = Math.max(100, ...rows.map((r) => r.share));
      box.replaceChildren(...rows.map((r, i) => {
        const told = element("output", { textContent: short(r.share) });
        const pick = element("input", { type: "color", value: r.code });
        const dial = element("input", { type: "range", min: 0, max: most, step: most / 100 });
        dial.value = String(r.share);
        const away = element("button", { type: "button", textContent: "\u00d7", disabled: rows.length < 2 });
        pick.setAttribute("aria-label", worded("code_of", { n: i + 1 }));
        dial.setAttribute("aria-label", worded("share_of", { n: i + 1 }));
        away.setAttribute("aria-label", worded("take_out", { n: i + 1 }));
        pick.addEventListener("input", (e) => { e.stopPropagation(); r.code = pick.value; write(); });
        dial.addEventListener("input", (e) => { e.stopPropagation(); r.share = Number(dial.value); told.textContent = short(r.share); write(); });
        away.addEventListener("click", () => {
          rows.splice(i, 1);
          draw(), write();
          box.querySelectorAll("button")[Math.min(i, rows.length - 1)].focus();
        });
        return element("div", { className: "share-row" }, pick, dial, told, away);
      }));
    }
    const follow = () => {
      rows = read(area.value || area.placeholder);
      const instead = area.value === "" && lots.some((l) => l.checked); // the lots are the heap
      box.hidden = add.hidden = instead || rows === null;
      if (rows === null) text.open = true;
      else draw();
    };
    add.addEventListener("click", () => {
      if (rows.length >= 24) return;
      rows.push({ code: "#888888", share: short(100 / (rows.length + 1)) * 1 });
      draw(), write();
      box.lastElementChild.querySelector("input").focus();
    });
    area.addEventListener("input", (e) => { if (e.isTrusted || area.value === "") follow(); });
    lots.forEach((l) => l.addEventListener("change", follow));
    follow();
  }

  function picker(field) {
    const pick = element("input", { type: "color" });
    pick.setAttribute("aria-label", worded("picked", { name: document.querySelector(`label[for="${field.id}"]`).textContent.trim() }));
    const follow = () => {
      const c = field.value || field.placeholder;
      pick.value = code.test(c) ? c.toLowerCase() : "#888888";
    };
    pick.addEventListener("input", (e) => {
      e.stopPropagation();
      field.value = pick.value;
      field.dispatchEvent(new Event("input", { bubbles: true }));
    });
    field.addEventListener("input", follow);
    follow();
    field.after(pick);
  }

  function ready() {
    document.querySelectorAll("textarea[data-shares]").forEach((a) => { if (!a.dataset.dialled) { a.dataset.dialled = "yes"; shares(a); } });
    document.querySelectorAll("input[data-code]").forEach((f) => { if (!f.dataset.dialled) { f.dataset.dialled = "yes"; picker(f); } });
  }
  ready();
  document.addEventListener("page-renewed", ready);
})();
