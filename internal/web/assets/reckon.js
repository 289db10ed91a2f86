// A calculator that answers while a number is still being moved: each number gets
// a dial, and the answer is fetched anew as the form changes. Without this file
// the button does the same.
"use strict";
(() => {
  let form = null, last = 0, waiting = 0, asking = null;

  const typed = (text) => {
    const m = /^\s*([-\u2212]?\d*[.,]?\d+(?:e[-+]?\d+)?)\s*$/i.exec(text);
    return m ? Number(m[1].replace(",", ".").replace("\u2212", "-")) : NaN;
  };
  const comma = () => /,\d/.test([...form.querySelectorAll("[placeholder]")].map((f) => f.placeholder).join(" "));

  // The dial runs in equal steps, or in equal factors where the ends lie far
  // apart.
  function dial(field) {
    const low = Number(field.dataset.low), high = Number(field.dataset.high), far = low > 0 && high / low > 100;
    const at = (v) => (far ? Math.log(v / low) / Math.log(high / low) : (v - low) / (high - low)) * 1000;
    const value = (t) => (far ? low * (high / low) ** (t / 1000) : low + (high - low) * t / 1000);
    const range = document.createElement("input");
    Object.assign(range, { type: "range", min: 0, max: 1000, step: 1, className: "dial-range" });
    range.setAttribute("aria-label", `${document.querySelector(`label[for="${field.id}"]`).textContent.trim()}, dial`);
    const follow = () => {
      const v = typed(field.value || field.placeholder);
      if (!Number.isNaN(v)) range.value = String(Math.min(1000, Math.max(0, at(v))));
    };
    range.addEventListener("input", () => {
      const s = String(Number(value(Number(range.value)).toPrecision(3)));
      field.value = comma() ? s.replace(".", ",") : s;
    });
    field.addEventListener("input", follow);
    follow();
    field.closest(".field").append(range);
  }

  async function renew() {
    const turn = ++last, asked = new URLSearchParams();
    for (const [k, v] of new FormData(form)) {
      if (v !== "" && !form.querySelector(`[name="${CSS.escape(k)}"][data-optional="none"]`)) asked.append(k, v);
    }
    const to = `${location.pathname}?${asked}`;
    if (asking) asking.abort(); // nobody waits for the answer before
    asking = new AbortController();
    const answer = await fetch(to, { headers: { Accept: "text/html" }, signal: asking.signal });
    const next = new DOMParser().parseFromString(await answer.text(), "text/html"), fresh = next.querySelector(".found");
    if (turn !== last || !fresh) return;
    const old = document.querySelector(".found"), open = [...old.querySelectorAll("details")].map((d) => d.open);
    old.replaceChildren(...fresh.childNodes);
    old.querySelectorAll("details").forEach((d, i) => { d.open = open[i] === true; });
    document.getElementById("said").textContent = old.querySelector("h1").textContent;
    // What another material brings along stands in the empty fields.
    for (const f of next.querySelectorAll(".asking [placeholder]")) {
      const mine = document.getElementById(f.id), help = document.getElementById(`${f.id}-help`), newHelp = next.getElementById(`${f.id}-help`);
      if (mine && mine.placeholder !== f.placeholder) { mine.placeholder = f.placeholder; mine.dispatchEvent(new Event("input")); }
      if (help && newHelp) help.textContent = newHelp.textContent;
    }
    history.replaceState(null, "", to);
    document.dispatchEvent(new Event("page-renewed"));
  }

  function ready() {
    const now = document.querySelector(".asking form");
    if (!now || now === form) return;
    form = now;
    form.querySelectorAll("input[data-low]").forEach(dial);
    form.addEventListener("input", () => {
      clearTimeout(waiting);
      waiting = setTimeout(() => renew().catch(() => {}), 80); // the server is not asked for every pixel
    });
    form.addEventListener("submit", (e) => { e.preventDefault(); renew().catch(() => form.submit()); });
  }
  ready();
  document.addEventListener("page-renewed", ready);
})();
