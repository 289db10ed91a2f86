// The stopwatch at the head of a sheet: one thumb starts and stops a run, and the
// time is filled in. It survives a reload and a locked phone, since what is kept
// is the moment of the start. Without this file the sheet is filled in by hand.
"use strict";
(() => {
  const watch = document.querySelector(".stopwatch");
  if (!watch) return;
  const dial = watch.querySelector(".dial"), aim = watch.querySelector(".aim"), button = watch.querySelector(".go");
  const field = (path) => path && document.querySelector(`[name="${CSS.escape(path)}"]`);
  const target = Number(watch.dataset.target) || 0;
  const began = "hopperful-began", stopped = "hopperful-stopped";
  const longestRest = 2 * 3600e3; // after a longer rest the mill is as cold as the room
  const longestRun = 3600e3; // no run takes longer: a start older than that was forgotten

  const clock = (ms) => {
    const s = Math.max(0, Math.round(ms / 1000));
    return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
  };
  const read = (key) => Number(localStorage.getItem(key)) || 0;
  const running = () => read(began) > 0;

  let lock = null, told = false;
  async function awake() {
    try {
      if ("wakeLock" in navigator && running()) lock = await navigator.wakeLock.request("screen");
    } catch { /* the battery is low, or the browser does not allow it: the run goes on */ }
  }
  function asleep() {
    if (lock) lock.release().catch(() => {});
    lock = null;
  }

  function show() {
    watch.classList.toggle("running", running());
    button.textContent = worded(running() ? "stop" : field(watch.dataset.fills).value ? "start_again" : "start");
    if (!running()) return;
    const gone = Date.now() - read(began), over = target > 0 && gone >= target * 1000;
    dial.textContent = clock(gone);
    watch.classList.toggle("over", over);
    if (over && !told) {
      told = true;
      aim.textContent = worded("time_to_stop");
      if (navigator.vibrate && navigator.userActivation?.hasBeenActive) navigator.vibrate([300, 150, 300]);
    }
  }

  function start() {
    const now = Date.now(), before = read(stopped), since = field(watch.dataset.since);
    if (since && !since.value && before > 0 && now - before < longestRest) since.value = clock(now - before);
    localStorage.setItem(began, String(now));
    told = false;
    dial.textContent = "0:00";
    awake();
    show();
  }

  function stop() {
    const now = Date.now(), f = field(watch.dataset.fills), next = field(watch.dataset.then);
    f.value = clock(now - read(began));
    localStorage.removeItem(began);
    localStorage.setItem(stopped, String(now));
    asleep();
    show();
    watch.classList.remove("over");
    if (next) next.focus();
  }

  button.addEventListener("click", () => (running() ? stop() : start()));
  document.addEventListener("visibilitychange", () => { if (!document.hidden) awake(); });
  if (read(began) > 0 && Date.now() - read(began) > longestRun) localStorage.removeItem(began);
  if (field(watch.dataset.fills)) watch.hidden = false;
  awake();
  show();
  setInterval(show, 250);
})();
