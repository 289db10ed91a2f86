// What is live on every page: learn of new records, keep what was opened open,
// and small things a form needs. Every page says everything without this file.
"use strict";

// worded is a line in the language of the page, with its facts filled in. The lines
// stand at the end of the page, from the one catalogue.
const wordsOfPage = JSON.parse(document.getElementById("words").textContent);
const worded = (key, facts = {}) => wordsOfPage[key].replace(/%(\w+)/g, (_, name) => facts[name]);

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
    a.textContent = worded("news");
    news.replaceChildren(a);
    news.hidden = false;
  }

  // A page that is cut off says since when it stands: one that came without the network
  // from its first moment, another once nothing was heard for as long as a line is
  // silent at the most.
  const offline = document.getElementById("offline"), silent = 60000;
  let heard = Date.now();
  function cutOff(at) {
    const time = offline.querySelector("time"), today = new Date(at).toDateString() === new Date().toDateString();
    const shape = today ? { hour: "2-digit", minute: "2-digit" } : { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" };
    time.dateTime = new Date(at).toISOString();
    time.textContent = new Intl.DateTimeFormat(document.documentElement.lang, { ...shape, hourCycle: "h23" }).format(at);
    offline.hidden = false;
  }
  const gone = () => { if (offline.hidden) cutOff(heard); };
  const together = () => { delete offline.dataset.stale; offline.hidden = true; heard = Date.now(); };
  const stale = () => offline.dataset.stale !== undefined;
  if (stale()) cutOff(Date.parse(offline.querySelector("time").dateTime));
  document.addEventListener("page-renewed", together);

  if (document.body.dataset.latest !== undefined && "EventSource" in window) {
    // A browser keeps few lines to one server, so a page that is not looked at
    // gives its own back. The server begins a line with the newest record, so
    // nothing is missed.
    const again = 5000;
    let line = null;
    const listen = () => {
      if (line || document.hidden) return;
      line = new EventSource("/live");
      line.addEventListener("here", () => { heard = Date.now(); });
      line.addEventListener("record", (e) => {
        const id = Number(e.data);
        heard = Date.now();
        if (id <= latest() && !stale()) together();
        else if (busy()) tell();
        else refresh(id).catch(tell);
      });
      line.addEventListener("error", () => {
        setTimeout(() => { if (line && line.readyState !== EventSource.OPEN) gone(); }, again / 2); // a restart is quicker
        if (line.readyState !== EventSource.CLOSED) return;
        hush();
        setTimeout(listen, again);
      });
    };
    const hush = () => { if (line) line.close(); line = null; };
    addEventListener("offline", gone);
    setInterval(() => { if (line && Date.now() - heard > silent) gone(); }, again);
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
