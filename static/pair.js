// At the door: a scanned code stands after the # of the address, where no
// server and no log sees it. It goes into the form and out of the address.
"use strict";

document.addEventListener("DOMContentLoaded", () => {
  const code = location.hash.slice(1);
  const field = document.querySelector("#code");
  if (/^[0-9A-Za-z-]{1,40}$/.test(code)) {
    history.replaceState(null, "", location.pathname);
    if (field) {
      field.value = code;
      document.querySelector("form button").focus();
    }
  }
  // A form that was sent but turned away is not saved: it is to come back.
  try { sessionStorage.removeItem("sent"); } catch { /* refused */ }
});
