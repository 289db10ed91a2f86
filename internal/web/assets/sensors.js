// What the sensors show, on the server's word: values, states and what they warn of, written
// over what the page was drawn with. Without this file the page shows them as they were.
"use strict";
(() => {
  let line = null;
  const areas = () => [...document.querySelectorAll("[data-live]")];

  function show(area, { sensors, alerts }) {
    for (const one of sensors) {
      const row = area.querySelector(`[data-sensor="${CSS.escape(one.Name)}"]`);
      if (!row) continue;
      row.querySelector(".live-value").textContent = one.Value;
      row.querySelector(".live-state").textContent = one.State;
      row.classList.toggle("stale", !one.Fresh);
    }
    const list = area.querySelector("[data-live-alerts]");
    const was = [...list.children].map((item) => item.textContent);
    if (was.join("\n") === alerts.join("\n")) return; // said already
    list.replaceChildren(...alerts.map((text) => Object.assign(document.createElement("li"), { textContent: text })));
  }

  const listen = () => {
    const first = areas()[0];
    if (line || document.hidden || !first || !("EventSource" in window)) return;
    line = new EventSource(`/sensors/live?machine=${encodeURIComponent(first.dataset.live)}`);
    line.addEventListener("sensors", (e) => {
      const told = JSON.parse(e.data);
      for (const area of areas()) show(area, told);
      document.body.dataset.sensors = Number(document.body.dataset.sensors || 0) + 1;
    });
  };
  const hush = () => { if (line) line.close(); line = null; };
  document.addEventListener("visibilitychange", () => (document.hidden ? hush() : listen()));
  addEventListener("pagehide", hush);
  addEventListener("pageshow", listen);
  listen();
})();
