// Wide families begin with the lot itself in the middle of what is seen.
"use strict";
(() => {
  const all = () => {
    for (const box of document.querySelectorAll(".kin-scroll:not([data-set])")) {
      box.dataset.set = "yes";
      box.scrollLeft = Number(box.dataset.middle) - box.clientWidth / 2;
    }
  };
  all();
  document.addEventListener("page-renewed", all);
})();
