// The page beside the mill: the clock of run and rest on the server's time, the
// end of either heard, felt and seen, and what is typed kept on the device until the
// server has it (outbox.js sends it). Without this file every button still works. It
// switches nothing and is no safety device.
"use strict";
(() => {
  const offsetKey = "hopperful-clock", draftKey = (run) => `hopperful-draft-${run.dataset.run}-${run.dataset.k}`;
  const retry = 2000, { kept, keep } = outbox;
  let run = null, offset = 0, best = Infinity, rung = "", sound = null, lock = null, asked = 0;

  const now = () => Date.now() + offset;
  const part = (name) => run.querySelector(`[data-shows="${name}"]`);

  // --- the server's clock: the quickest of some answers tells it best
  async function setClock() {
    for (let i = 0; i < 4; i++) {
      try {
        const t0 = performance.now(), answer = await fetch("/run/clock", { headers: { Accept: "application/json" } });
        const { now: theirs } = await answer.json(), trip = performance.now() - t0;
        if (trip < best) { best = trip; offset = theirs + trip / 2 - Date.now(); keep(offsetKey, offset); }
      } catch { return; }
    }
  }

  // --- what the clock shows
  function face(seconds) {
    const s = Math.abs(seconds) > 0 ? Math.ceil(Math.abs(seconds) - 1e-6) : 0;
    return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
  }
  function tick() {
    if (!run) return;
    const d = run.dataset, from = Number(d.from), stage = d.stage;
    let phase = stage, left = 0;
    if (stage === "running") {
      left = from / 1000 + Number(d.runS) - now() / 1000;
      phase = left > 0 ? "running" : "over-time";
      part("word").textContent = left > 0 ? d.sayRunning : d.sayOver;
      part("dial").textContent = left > 0 ? face(left) : `+${face(Math.floor(-left))}`;
    } else if ((stage === "ready" || stage === "stopped") && from > 0) {
      left = from / 1000 + Number(d.restS) - now() / 1000;
      phase = left > 0 ? "resting" : stage;
      part("dial").textContent = face(Math.max(0, left));
      if (stage === "ready") part("word").textContent = left > 0 ? d.sayRest : d.sayReady;
    }
    if (d.phase !== phase) {
      const was = d.phase;
      d.phase = phase;
      document.body.dataset.mill = phase;
      if (was && (phase === "over-time" || was === "resting" && phase === "ready")) ring(`${d.run}-${d.from}-${phase}`);
    }
  }

  // --- the end of run and rest, for covered ears too
  function ring(what) {
    if (rung === what) return;
    rung = what;
    document.body.dataset.rung = what;
    if (navigator.vibrate && navigator.userActivation?.hasBeenActive) navigator.vibrate([500, 200, 500, 200, 800]);
    if (!sound) return;
    for (let i = 0; i < 4; i++) {
      const tone = sound.createOscillator(), level = sound.createGain(), at = sound.currentTime + i * 0.45;
      tone.frequency.value = i % 2 ? 660 : 990;
      level.gain.setValueAtTime(0.6, at);
      level.gain.setValueAtTime(0, at + 0.3);
      tone.connect(level).connect(sound.destination);
      tone.start(at);
      tone.stop(at + 0.32);
    }
  }
  async function touched() {
    if (!sound && window.AudioContext) sound = new AudioContext();
    if (sound && sound.state === "suspended") sound.resume().catch(() => {});
    if (run) part("silent").hidden = true;
    awake();
  }
  async function awake() {
    if (!run || lock || document.hidden || run.dataset.stage === "over" || !("wakeLock" in navigator)) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => { lock = null; });
    } catch { /* the battery is low, or the browser does not allow it */ }
  }

  // --- drafts: what is typed stays on the device until the server has it
  function restore() {
    const draft = kept(draftKey(run), null);
    for (const form of run.querySelectorAll("form[data-draft]")) {
      for (const field of form.elements) {
        if (!field.name || field.type === "hidden" || !draft || !(field.name in draft)) continue;
        if (field.type === "checkbox") field.checked = draft[field.name].includes(field.value);
        else field.value = draft[field.name];
      }
    }
  }
  function drafted(form) {
    const draft = kept(draftKey(run), {});
    for (const field of form.elements) {
      if (!field.name || field.type === "hidden") continue;
      if (field.type === "checkbox") {
        draft[field.name] = [...form.elements].filter((f) => f.name === field.name && f.checked).map((f) => f.value);
      } else draft[field.name] = field.value;
    }
    keep(draftKey(run), draft);
  }

  // --- touches: kept, shown at once, sent in their order, never twice (each has its key)
  const afterTouch = { started: "running", stopped: "stopped", stalled: "stopped", "sheet skipped": "ready", resumed: "ready" };
  function show(stage, at) {
    const d = run.dataset;
    d.stage = stage;
    if (stage === "running" || stage === "stopped") d.from = at;
    for (const s of run.querySelectorAll("[data-at]")) s.hidden = s.dataset.at !== stage;
    tick();
  }
  function foresee(one) {
    const said = new URLSearchParams(one.body), what = said.get("what"), form = run.querySelector(".run-record");
    if (one.charge) {
      run.dataset.k = Number(said.get("k")) + 1;
      part("k").textContent = run.dataset.k;
      show("ready", 0);
      form.reset(); // for the next charge, which may end before the network is back
      form.elements.k.value = run.dataset.k;
      restore();
    } else if (afterTouch[what]) {
      if (run.dataset.stage === "running" && afterTouch[what] === "stopped") {
        form.elements.run_s.value = `${Math.max(1, Math.round((said.get("at") - run.dataset.from) / 1000))} s`;
        restore();
      }
      show(afterTouch[what], said.get("at"));
    }
  }
  function touch(form) {
    const said = new URLSearchParams(new FormData(form)), charge = form.action.endsWith("/charge");
    said.set("at", Math.round(now()));
    const one = { to: new URL(form.action).pathname, body: said.toString(), run: run.dataset.run, charge };
    outbox.add(one);
  }
  const mine = () => outbox.list().filter((one) => run && one.run === run.dataset.run);
  document.addEventListener("outbox-kept", (e) => { asked++; if (run) foresee(e.detail); });
  document.addEventListener("outbox-sent", ({ detail: { one, text, ok } }) => {
    asked++;
    if (ok && one.charge) localStorage.removeItem(`hopperful-draft-${one.run}-${new URLSearchParams(one.body).get("k")}`);
    if (run && one.run === run.dataset.run && (mine().length === 0 || outbox.held())) take(text, ok);
  });
  document.addEventListener("outbox-told", () => { if (run) part("unsent").hidden = mine().length === 0; });

  // --- the page as the server has it
  function take(text, good) {
    const next = new DOMParser().parseFromString(text, "text/html"), main = next.querySelector("main");
    if (!main || !main.querySelector(".run")) {
      const why = part("refused"), heading = next.querySelector("h1");
      if (!good) { why.textContent = `${why.dataset.says} ${heading ? heading.textContent : ""}`; why.hidden = false; }
      return;
    }
    const typing = document.activeElement?.closest(".run [data-draft]") ? document.activeElement : null;
    const caret = typing && [typing.name, typing.selectionStart, typing.selectionEnd];
    document.querySelector("main").replaceChildren(...main.childNodes);
    document.body.dataset.latest = next.body.dataset.latest ?? document.body.dataset.latest;
    begin();
    document.dispatchEvent(new Event("page-renewed"));
    const again = caret && run.querySelector(`[data-at]:not([hidden]) [name="${CSS.escape(caret[0])}"]`);
    if (!again) return;
    again.focus({ preventScroll: true });
    if (caret[1] !== null) again.setSelectionRange(caret[1], caret[2]);
  }
  // What was asked for before the latest touch, or before it was asked for again, is old news.
  async function renew() {
    const asking = ++asked;
    try {
      const answer = await fetch(location.href, { headers: { Accept: "text/html" } }), text = await answer.text();
      if (answer.ok && mine().length === 0 && asking === asked) take(text, true);
    } catch { if (asking === asked) setTimeout(renew, retry); }
  }

  function begin() {
    run = document.querySelector(".run");
    if (!run) return;
    const stands = document.getElementById("offline").dataset.stale === undefined; // else its clock stands too
    if (best === Infinity) offset = stands ? Number(run.dataset.now) - Date.now() : kept(offsetKey, 0);
    restore();
    if (!outbox.held()) mine().forEach(foresee);
    part("unsent").hidden = mine().length === 0;
    part("silent").hidden = sound !== null || run.dataset.stage === "over";
    part("dark").hidden = window.isSecureContext || run.dataset.stage === "over";
    part("said").className = Number(run.dataset.from) > 0 ? "seen-by-readers" : ""; // the clock says it, and goes on
    if (run.dataset.planning !== undefined) setTimeout(renew, 1000);
    tick();
    awake();
  }

  document.addEventListener("submit", (e) => {
    if (!run || !e.target.closest(".run") || !e.target.action.includes("/run/")) return;
    e.preventDefault();
    touched();
    if (e.target.matches("[data-draft]")) drafted(e.target);
    touch(e.target);
  });
  document.addEventListener("input", (e) => {
    const form = e.target.closest("form[data-draft]");
    if (run && form) drafted(form);
  });
  document.addEventListener("pointerdown", touched);
  document.addEventListener("keydown", touched);
  document.addEventListener("page-news", renew);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { setClock(); awake(); tick(); } });
  addEventListener("pageshow", (e) => { if (e.persisted) { begin(); renew(); } });
  begin();
  setClock().then(tick);
  setInterval(tick, 100);
})();
