// A list for viewers: another unit or width shows at once. Without this the
// button does the same.
"use strict";

document.addEventListener("DOMContentLoaded", () => {
  let asked = 0;
  let timer;

  async function show(form) {
    const mine = ++asked;
    const query = `?${new URLSearchParams(new FormData(form))}`;
    const answer = await fetch(location.pathname + query, { credentials: "omit" }).catch(() => null);
    if (!answer?.ok || mine !== asked) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (mine !== asked) return;
    const now = document.querySelector("article.shared");
    const next = page.querySelector("article.shared");
    if (!now || !next) return;
    // The form stays, with the cursor in it; all around it is new.
    const error = page.querySelector("#viewer-error");
    const told = form.querySelector("#viewer-error, #viewer-hint");
    const said = error || page.querySelector("#viewer-hint");
    if (told && said) told.replaceWith(said);
    form.querySelector("#viewer-width").setAttribute("aria-describedby", said?.id ?? "");
    form.querySelector("#viewer-width").toggleAttribute("aria-invalid", Boolean(error));
    const sections = (from) => Array.from(from.querySelectorAll(".material-section"));
    const [old, fresh] = [sections(now), sections(next)];
    if (old.length !== fresh.length) return;
    old.forEach((section, i) => section.replaceWith(fresh[i]));
    history.replaceState(null, "", query);
  }

  document.querySelectorAll("form[data-viewer]").forEach((form) => {
    form.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(() => show(form), 350); });
  });
});
