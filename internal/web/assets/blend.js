// The recipe's page: what takes longer than an answer may (the next best recipes,
// what relaxing a limit would give) is fetched once nothing moves any more.
// Without this file a link does the same.
"use strict";
(() => {
  let asked = null, waiting = 0;

  async function more(part, from) {
    if (asked) asked.abort();
    asked = new AbortController();
    const answer = await fetch(from, { headers: { Accept: "text/html" }, signal: asked.signal });
    if (!answer.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html"), next = page.querySelector(".more-part");
    if (!part.isConnected || part.dataset.from !== from) return;
    if (!next) { later(part, 1000); return; } // still being looked for
    const better = next.querySelector(".longer");
    if (better) better.hidden = page.querySelector("h1").textContent === document.querySelector("h1").textContent;
    part.replaceChildren(...next.childNodes);
    delete part.dataset.from;
  }

  function later(part, wait) {
    clearTimeout(waiting);
    waiting = setTimeout(() => more(part, part.dataset.from).catch(() => {}), wait);
  }

  function ready() {
    clearTimeout(waiting);
    if (asked) asked.abort();
    const part = document.querySelector(".more-part[data-from]");
    if (part) later(part, 900);
  }

  // Who picks a colour wants it kept.
  document.addEventListener("input", (e) => {
    if (!e.target.matches('.blending input[type="color"]')) return;
    const box = document.querySelector('.blending input[name="tinted"]');
    if (box) box.checked = true;
  }, true);

  ready();
  document.addEventListener("page-renewed", ready);
})();
