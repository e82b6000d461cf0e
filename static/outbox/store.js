// What waits on this device for the notebook, in the browser's own database:
// entries, their photos, the form for adding to each project's log, and which
// tab is sending.

const NAME = "notchbook-outbox";
/** A tab that sends says so this often; one that fell silent is replaced. */
const LEASE = 9000;

let opening;

function open() {
  opening ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      const db = asked.result;
      db.createObjectStore("entries", { keyPath: "id" });
      // Under [entry, number].
      db.createObjectStore("photos");
      db.createObjectStore("forms");
      db.createObjectStore("lease");
    };
    asked.onsuccess = () => {
      const db = asked.result;
      db.onversionchange = () => { db.close(); opening = undefined; };
      db.onclose = () => { opening = undefined; };
      resolve(db);
    };
    asked.onerror = () => reject(asked.error);
  });
  opening.catch(() => { opening = undefined; });
  return opening;
}

const answer = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

/** Runs `act` with the stores in one transaction; done when it is on the disk. */
async function change(names, act) {
  const db = await open();
  const transaction = db.transaction(names, "readwrite", { durability: "strict" });
  const done = new Promise((resolve, reject) => {
    transaction.oncomplete = resolve;
    transaction.onabort = () => reject(transaction.error ?? new Error("not kept"));
  });
  done.catch(() => {});
  const result = await act(...names.map((name) => transaction.objectStore(name)));
  await done;
  return result;
}

async function look(name, act) {
  const db = await open();
  return answer(act(db.transaction(name).objectStore(name)));
}

const photosOf = (id) => IDBKeyRange.bound([id], [id, []]);

/** All that waits, the oldest first. */
export async function entries() {
  const all = await look("entries", (store) => store.getAll());
  return all.sort((a, b) => a.order - b.order);
}

/** Keeps an entry and its photos together or not at all. Under an id that
    waits already it takes that entry's place, and of those `instead` tells. */
export function keep(entry, blobs, instead) {
  return change(["entries", "photos"], async (waiting, photos) => {
    const before = await answer(waiting.get(entry.id));
    if (instead) (await answer(waiting.getAll())).filter(instead).forEach((other) => waiting.delete(other.id));
    photos.delete(photosOf(entry.id));
    blobs.forEach((blob, i) => photos.put(blob, [entry.id, i]));
    waiting.put({ ...entry, order: before?.order ?? entry.order });
  });
}

/** Changes an entry as it was read; one that was replaced or dropped meanwhile
    stays as it is. */
export function update(entry, with_) {
  return change(["entries", "photos"], async (waiting, photos) => {
    const now = await answer(waiting.get(entry.id));
    if (!now || now.turn !== entry.turn) return undefined;
    Object.assign(now, with_);
    for (const key of await answer(photos.getAllKeys(photosOf(entry.id)))) {
      if (!now.photos.some((photo) => photo.number === key[1])) photos.delete(key);
    }
    waiting.put(now);
    return now;
  });
}

export function drop(entry) {
  return change(["entries", "photos"], async (waiting, photos) => {
    const now = await answer(waiting.get(entry.id));
    if (now?.turn !== entry.turn) return;
    waiting.delete(entry.id);
    photos.delete(photosOf(entry.id));
  });
}

export const photo = (id, number) => look("photos", (store) => store.get([id, number]));

export const form = (project) => look("forms", (store) => store.get(project));
export const keepForm = (project, html) => change(["forms"], async (forms) => { forms.put({ html, at: Date.now() }, project); });

/** Whether this tab may send; asked again while it does. */
export function lease(tab, ms = LEASE) {
  return change(["lease"], async (store) => {
    const held = await answer(store.get("sender"));
    if (held && held.tab !== tab && held.until > Date.now()) return false;
    store.put({ tab, until: Date.now() + ms }, "sender");
    return true;
  });
}
