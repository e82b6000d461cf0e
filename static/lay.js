// A lay that is being looked for: its card is asked for again every second
// until the search is over. Without this script a link shows what is found.
"use strict";

(() => {
  const place = document.getElementById("found");
  const card = () => place?.querySelector("[data-looking]");
  let misses = 0;

  async function again() {
    const looking = card();
    if (!looking) return;
    try {
      const answer = await fetch(looking.dataset.found, { headers: { accept: "text/html" } });
      if (!answer.ok) throw new Error(String(answer.status));
      const text = await answer.text();
      // Not under the hand that is about to press Stop, and no jump of the page.
      const held = document.activeElement?.closest("#found form")?.getAttribute("action");
      place.innerHTML = text;
      place.querySelector("[data-reload]")?.remove();
      if (held) place.querySelector(`form[action="${CSS.escape(held)}"] button`)?.focus();
      misses = 0;
    } catch {
      misses += 1;
    }
    // A laptop that is out of reach is not asked for ever.
    if (misses < 10) setTimeout(again, 1000 * (1 + misses));
  }

  if (card()) {
    place.querySelector("[data-reload]")?.remove();
    setTimeout(again, 1000);
  }
})();
