// The outbox: what is written while the laptop is out of reach waits on this
// device and is sent when it answers again. `store` keeps it, `send` sends it,
// `forms` takes it from the forms of the log, `ticks` from the steps, `clock`
// from the timer, `line` and `list` say what waits, `away` opens the form with
// the laptop out of reach.

import { keepSending } from "./outbox/send.js";
import { takeForms } from "./outbox/forms.js";
import { showLine } from "./outbox/line.js";
import { openWhileAway } from "./outbox/away.js";
import { takeTicks } from "./outbox/ticks.js";
import { takeTimer } from "./outbox/clock.js";

if ("indexedDB" in window) {
  showLine();
  // At the door nothing is sent: this device is not let in yet.
  if (!document.querySelector(".door")) {
    takeForms();
    takeTicks();
    takeTimer();
    openWhileAway();
    keepSending();
  }
}

// Pages seen are kept, where browsers allow it: on this computer and by TLS.
if (window.isSecureContext && "serviceWorker" in navigator && !document.querySelector(".door")) {
  const first = !navigator.serviceWorker.controller;
  navigator.serviceWorker.register("/worker.js").then(async () => {
    const worker = await navigator.serviceWorker.ready;
    if (first) worker.active?.postMessage({ keep: location.pathname + location.search });
  }).catch((error) => console.info("pages are not kept:", error));
}
