// What is live on every page: learn of new records, keep what was opened open,
// and small things a form needs. Every page says everything without this file.
"use strict";
(() => {
  const latest = () => Number(document.body.dataset.latest || 0);
  const news = document.getElementById("news");

  // A sheet somebody is filling in is never replaced under their hands.
  let dirty = false;
  document.addEventListener("input", (e) => { if (e.target.closest("form") && !e.target.closest("[data-draft]")) dirty = true; });
  const busy = () => dirty || document.querySelector("[data-dirty]") !== null;

  const openOnes = () => [...document.querySelectorAll("main details")].map((d) => d.open);

  async function refresh(id) {
    if (document.querySelector(".run")) { // it keeps what is typed, and renews itself
      document.dispatchEvent(new Event("page-news"));
      return;
    }
    const answer = await fetch(location.href, { headers: { Accept: "text/html" } });
    if (!answer.ok || answer.redirected) return;
    const next = new DOMParser().parseFromString(await answer.text(), "text/html");
    const main = next.querySelector("main");
    if (!main || busy()) return;
    const open = openOnes();
    const focused = document.activeElement && document.activeElement.closest("main a[href]");
    document.querySelector("main").replaceChildren(...main.childNodes);
    const now = [...document.querySelectorAll("main details")];
    if (now.length === open.length) now.forEach((d, i) => { d.open = open[i]; });
    if (focused) {
      const again = document.querySelector(`main a[href="${CSS.escape(focused.getAttribute("href"))}"]`);
      if (again) again.focus({ preventScroll: true });
    }
    document.body.dataset.latest = id;
    document.dispatchEvent(new Event("page-renewed"));
  }

  function tell() {
    if (!news) return;
    const a = document.createElement("a");
    a.href = location.href;
    a.textContent = "Something was recorded. Show it";
    news.replaceChildren(a);
    news.hidden = false;
  }

  if (document.body.dataset.latest !== undefined && "EventSource" in window) {
    // A browser keeps few lines to one server, so a page that is not looked at
    // gives its own back. The server begins a line with the newest record, so
    // nothing is missed.
    let line = null;
    const listen = () => {
      if (line || document.hidden) return;
      line = new EventSource("/live");
      line.addEventListener("record", (e) => {
        const id = Number(e.data);
        if (id <= latest()) return;
        if (busy()) tell(); else refresh(id).catch(tell);
      });
    };
    const hush = () => { if (line) line.close(); line = null; };
    document.addEventListener("visibilitychange", () => (document.hidden ? hush() : listen()));
    addEventListener("pagehide", hush);
    addEventListener("pageshow", listen);
    listen();
  }

  // The bar that takes a record back goes after ten seconds, with the address
  // that called it, so that turning back does not show it again.
  const bar = document.querySelector(".done-bar");
  if (bar) {
    const u = new URL(location.href);
    u.searchParams.delete("done");
    history.replaceState(null, "", u);
  }

  // A colour that nobody picked is not sent.
  document.addEventListener("submit", (e) => {
    for (const c of e.target.querySelectorAll('input[type="color"][data-optional="none"]')) c.disabled = true;
    dirty = false;
  });
  document.addEventListener("input", (e) => { if (e.target.matches('input[type="color"]')) e.target.dataset.optional = ""; });

  // A number that stands there already is written over, not written behind.
  document.addEventListener("focusin", (e) => { if (e.target.matches("input.amount")) e.target.select(); });

  const sheet = document.querySelector(".print-page");
  if (sheet) {
    sheet.hidden = false;
    sheet.querySelector("a").addEventListener("click", (e) => { e.preventDefault(); print(); });
  }
})();
