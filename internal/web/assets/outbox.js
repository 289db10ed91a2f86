// What was touched and typed at the mill and is not sent yet. It is kept on the device
// and sent from whichever page is open, in its order, each with a key of its own so
// that the server writes it once. Nobody is logged out over it.
"use strict";
const outbox = (() => {
  const outKey = "hopperful-out", heldKey = "hopperful-held", retry = 2000;
  let sending = false, again = 0;
  const kept = (key, other) => { try { return JSON.parse(localStorage.getItem(key)) ?? other; } catch { return other; } };
  const keep = (key, value) => { try { localStorage.setItem(key, JSON.stringify(value)); } catch { /* full: the page still sends */ } };
  const list = () => kept(outKey, []);
  const tell = (name, detail) => document.dispatchEvent(new CustomEvent(name, { detail }));
  const newKey = () => [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");

  // A charge whose numbers the server does not take holds what was touched after it,
  // until it is mended: the next touch goes before the others then.
  const held = () => kept(heldKey, false);

  // add keeps one and sends it. A page loaded again without a network still has the
  // keys of its forms, so that each touch gets one here.
  function add(one) {
    one.body = new URLSearchParams(one.body);
    one.body.set("key", newKey());
    one.body = one.body.toString();
    keep(outKey, held() ? [one, ...list()] : [...list(), one]);
    keep(heldKey, false);
    tell("outbox-kept", one);
    send();
  }

  async function send() {
    if (sending) return;
    sending = true;
    clearTimeout(again);
    try {
      for (let all = list(); all.length > 0 && !held(); all = list()) {
        const one = all[0];
        const answer = await fetch(one.to, { method: "POST", body: one.body, headers: { "Content-Type": "application/x-www-form-urlencoded", Accept: "text/html" } });
        if (answer.redirected && new URL(answer.url).pathname === "/login") { location.href = answer.url; return; }
        if (answer.status === 401) { location.href = `/login?next=${encodeURIComponent(location.pathname)}`; return; } // and is sent after it
        if (answer.status >= 500 || answer.status === 429) throw new Error(String(answer.status));
        const text = await answer.text();
        keep(outKey, list().filter((other) => other.body !== one.body)); // it has decided
        if (one.charge && answer.status === 422) keep(heldKey, list().length > 0);
        tell("outbox-sent", { one, text, ok: answer.ok });
      }
    } catch { again = setTimeout(send, retry); } finally {
      sending = false;
      show();
    }
  }

  // show says on every page but the run's own, which says it itself, that something waits
  function show() {
    const line = document.getElementById("unsent");
    if (line) line.hidden = list().length === 0 || document.querySelector(".run") !== null;
    tell("outbox-told");
  }

  // Logging out throws away what this device keeps, so that nothing may wait then.
  document.addEventListener("submit", async (e) => {
    const out = e.target;
    if (new URL(out.getAttribute("action") ?? "", location.href).pathname !== "/logout" || out.dataset.sent) return;
    e.preventDefault();
    await send();
    if (list().length > 0) {
      show();
      document.getElementById("unsent-out").hidden = false;
      return;
    }
    out.dataset.sent = "yes";
    for (const key of Object.keys(localStorage)) if (key.startsWith("hopperful-")) localStorage.removeItem(key);
    if ("caches" in window) for (const name of await caches.keys()) await caches.delete(name);
    out.submit();
  });
  addEventListener("online", send);
  document.addEventListener("DOMContentLoaded", () => { if (location.pathname !== "/login") send(); });
  return { kept, keep, list, held, add };
})();
