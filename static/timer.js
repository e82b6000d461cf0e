// The running timer counts on.
"use strict";

/** As the server writes it: begun minutes count. */
function minutesSince(since, until = Date.now()) {
  const minutes = Math.max(1, Math.ceil((until - Date.parse(since)) / 60000));
  const [h, m] = [Math.floor(minutes / 60), minutes % 60];
  return [h && `${h} h`, (m || !h) && `${m} min`].filter(Boolean).join(" ");
}

function countOn() {
  // In a copy kept on this device it may long be stopped: the copy shows its
  // own moment, but for one that was started on this device.
  const of = document.documentElement.dataset.keptAt ? "[data-waits] [data-since]" : "[data-since]";
  document.querySelectorAll(of).forEach((place) => { place.textContent = minutesSince(place.dataset.since); });
}

document.addEventListener("DOMContentLoaded", () => {
  setInterval(countOn, 5000);
  // A phone that slept catches up as soon as it is looked at.
  document.addEventListener("visibilitychange", countOn);
});
