// A calculator that answers while a number is still being moved: each number gets
// a dial, and the answer is fetched anew as the form changes. Without this file
// the button does the same.
"use strict";
(() => {
  let form = null, last = 0, waiting = 0, asking = null, under = "", begun = 0, shown = "", again = false;

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
    range.setAttribute("aria-label", worded("dial", { name: document.querySelector(`label[for="${field.id}"]`).textContent.trim() }));
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
    field.closest(".with-unit").append(range);
  }

  // What the form asks, as an address.
  function address() {
    const asked = new URLSearchParams();
    for (const [k, v] of new FormData(form)) {
      if (v !== "" && !form.querySelector(`[name="${CSS.escape(k)}"][data-optional="none"]`)) asked.append(k, v);
    }
    return `${location.pathname}?${asked}`;
  }

  // While a finger moves, the next question waits for the answer under way, so
  // that the answers follow it; the server is not asked for every pixel.
  const pause = 80;
  function chase() {
    clearTimeout(waiting);
    const rest = begun + pause - performance.now();
    if (under) again = true;
    else if (rest > 0) waiting = setTimeout(chase, rest);
    else renew().catch(() => {});
  }

  async function renew() {
    const to = address();
    if (under === to) return;
    const turn = ++last;
    if (asking) asking.abort(); // nobody waits for the answer before
    asking = new AbortController();
    under = to;
    begun = performance.now();
    try {
      await fetched(to, turn);
    } finally {
      if (turn === last) {
        under = "";
        if (again) { again = false; chase(); }
      }
    }
  }

  // The finger is off the dial: this is what was meant.
  function lifted() {
    clearTimeout(waiting);
    again = false;
    if (address() !== shown) renew().catch(() => {});
  }

  async function fetched(to, turn) {
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
    shown = to;
    history.replaceState(null, "", to);
    document.dispatchEvent(new Event("page-renewed"));
  }

  function ready() {
    const now = document.querySelector(".asking form");
    if (!now || now === form) return;
    form = now;
    form.querySelectorAll("input[data-low]").forEach(dial);
    form.addEventListener("input", (e) => {
      clearTimeout(waiting);
      if (e.target.matches(".dial-range")) chase();
      else waiting = setTimeout(() => renew().catch(() => {}), pause); // nor for every letter
    });
    form.addEventListener("change", (e) => { if (e.target.matches(".dial-range")) lifted(); });
    form.addEventListener("submit", (e) => { e.preventDefault(); renew().catch(() => form.submit()); });
  }
  ready();
  document.addEventListener("page-renewed", ready);
})();
