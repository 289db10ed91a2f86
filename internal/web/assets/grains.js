// Photographed grains: the picture is sent with its progress, outlines are zoomed
// by finger, and a touched grain is struck out or parted; what follows is fetched
// anew. The page does the same with its forms where this file does not run.
"use strict";
(() => {
  const wrong = document.querySelector(".grains-wrong");
  const refuse = (say, hint) => {
    wrong.querySelector("b").textContent = say;
    wrong.querySelector("p").textContent = hint || "";
    wrong.hidden = false;
    wrong.scrollIntoView({ block: "nearest" });
  };

  // Sending: first how much has gone, then, line by line, what is being done.
  for (const form of document.querySelectorAll(".grains-send")) form.addEventListener("submit", (e) => {
    e.preventDefault();
    const bar = form.insertBefore(document.createElement("progress"), form.querySelector(".grains-stage")), stage = form.querySelector(".grains-stage"), button = form.querySelector("button");
    const stages = 5, ask = new XMLHttpRequest();
    let read = 0, done = 0;
    bar.max = 100, bar.value = 0;
    wrong.hidden = true, button.disabled = true, stage.textContent = form.dataset.sending;
    ask.open("POST", form.action);
    ask.setRequestHeader("Accept", "application/x-ndjson");
    ask.upload.onprogress = (p) => { if (p.lengthComputable) bar.value = 40 * p.loaded / p.total; };
    const lines = () => {
      for (let end; (end = ask.responseText.indexOf("\n", read)) >= 0; read = end + 1) {
        const line = JSON.parse(ask.responseText.slice(read, end));
        if (line.to) { location.assign(line.to); return; }
        if (line.say) { refuse(line.say, line.hint); continue; }
        done++;
        bar.value = 40 + 60 * Math.min(1, done / (stages * line.of));
        stage.textContent = line.stage + (line.of > 1 ? " " + line.n + "/" + line.of : "");
      }
    };
    ask.onprogress = lines;
    ask.onloadend = () => {
      lines();
      button.disabled = false, bar.remove(), stage.textContent = "";
      if (ask.status === 0 || ask.status >= 400) refuse(form.dataset.lost, form.dataset.lostHint);
    };
    ask.send(new FormData(form));
  });

  const edit = document.querySelector(".grains-edit");
  if (!edit) return;
  for (const x of document.querySelectorAll(".grains-live")) x.hidden = false;

  // Zooming: two fingers, the buttons, or the wheel with Ctrl.
  for (const frame of document.querySelectorAll(".grains-frame")) {
    const field = frame.querySelector(".grains-field"), down = new Map();
    let zoom = 1, apart = 0;
    const to = (next, x, y) => {
      next = Math.min(12, Math.max(1, next));
      const fx = (frame.scrollLeft + x) / zoom, fy = (frame.scrollTop + y) / zoom;
      zoom = next, field.style.width = 100 * zoom + "%";
      frame.scrollLeft = fx * zoom - x, frame.scrollTop = fy * zoom - y;
      frame.dataset.zoomed = zoom.toFixed(2);
    };
    const gap = () => { const [a, b] = [...down.values()]; return Math.hypot(a.x - b.x, a.y - b.y); };
    frame.addEventListener("touchstart", (e) => { if (e.touches.length > 1) e.preventDefault(); }, { passive: false });
    frame.addEventListener("pointerdown", (e) => { down.set(e.pointerId, { x: e.clientX, y: e.clientY }); if (down.size === 2) apart = gap(); });
    frame.addEventListener("pointermove", (e) => {
      if (!down.has(e.pointerId)) return;
      down.set(e.pointerId, { x: e.clientX, y: e.clientY });
      if (down.size !== 2) return;
      const now = gap(), box = frame.getBoundingClientRect(), [a, b] = [...down.values()];
      if (apart > 0) to(zoom * now / apart, (a.x + b.x) / 2 - box.left, (a.y + b.y) / 2 - box.top);
      apart = now;
    });
    for (const end of ["pointerup", "pointercancel", "pointerleave"]) frame.addEventListener(end, (e) => down.delete(e.pointerId));
    frame.addEventListener("wheel", (e) => {
      if (!e.ctrlKey) return;
      e.preventDefault();
      const box = frame.getBoundingClientRect();
      to(zoom * (e.deltaY < 0 ? 1.2 : 1 / 1.2), e.clientX - box.left, e.clientY - box.top);
    }, { passive: false });
    for (const b of document.querySelectorAll("[data-zoom]")) b.addEventListener("click", () => to(zoom * Number(b.dataset.zoom), frame.clientWidth / 2, frame.clientHeight / 2));
  }

  // Touching a grain.
  let waiting = 0;
  const reckon = async () => {
    const found = document.getElementById("found");
    found.setAttribute("aria-busy", "true");
    const answer = await fetch(edit.action, { method: "POST", body: new URLSearchParams(new FormData(edit)) });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html"), anew = page.getElementById("found");
    const box = page.querySelector(".grains-wrong");
    if (box && !box.hidden) refuse(box.querySelector("b").textContent, box.querySelector("p").textContent); else wrong.hidden = true;
    if (anew) found.replaceChildren(...anew.childNodes);
    found.removeAttribute("aria-busy");
    document.dispatchEvent(new Event("page-renewed"));
  };
  for (const svg of document.querySelectorAll(".grains-field svg")) svg.addEventListener("click", (e) => {
    const grain = e.target.closest("polygon");
    if (!grain) return;
    const kind = document.querySelector('[name="touch"]:checked').value, other = kind === "struck" ? "parted" : "struck";
    const list = (what) => edit.querySelector(`[name="${what}.${svg.dataset.picture}"]`);
    const read = (what) => new Set(list(what).value.split(/\D+/).filter(Boolean));
    const mine = read(kind), its = read(other), n = grain.dataset.grain;
    if (!mine.delete(n)) mine.add(n);
    its.delete(n);
    list(kind).value = [...mine].join(", "), list(other).value = [...its].join(", ");
    grain.classList.toggle(kind, mine.has(n)), grain.classList.remove(other);
    clearTimeout(waiting), waiting = setTimeout(reckon, 400);
  });
})();
