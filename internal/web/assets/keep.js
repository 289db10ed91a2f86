// On the pages that may be loaded without a network: has the worker keep them. A
// browser has it only over HTTPS, and on the computer itself.
"use strict";
if (window.isSecureContext && "serviceWorker" in navigator) {
  const workers = navigator.serviceWorker;
  // the page that brought the worker did not come through it, and the first page may not have been opened yet
  workers.addEventListener("controllerchange", () => {
    for (const path of new Set([location.pathname, "/"])) fetch(path, { headers: { Accept: "text/html" } }).catch(() => {});
  });
  workers.register("/offline.js").catch(() => { /* forbidden, or no room: the pages work without */ });
}
