// Everything that is recorded on this page goes through here, and here is said
// where it is kept.
//
// An entry is what was recorded of one thing on one day:
//
//	{ kind: "count", id, on, up, died }   all that are up, and died of these
//	{ kind: "gone", id, on, how }         how it ended
//	{ kind: "note", id, on, text }
//
// with saved: true once it is in a file or was shared, and sent: true once it
// is in the registry at home.

const kinds = ["count", "gone", "note"];

// listeners are told of every entry at once: listener(what, entry, before).
// what is "recorded", where before is the entry whose place it took, or null,
// or "withdrawn". The page that is served sends entries home from here, and
// marks them when they arrived: mark([entry], "sent").
const listeners = [];

// record keeps an entry, in the place of one of the same kind, thing and day.
function record(entry) {
  const same = other => keyOf(other) === keyOf(entry);
  const before = entered().find(same) || null;
  const fresh = { ...entry, saved: false, sent: false };
  store([...entered().filter(e => !same(e)), ...isRecorded(fresh) ? [] : [fresh]]);
  listeners.forEach(hear => hear("recorded", fresh, before));
}

// withdraw takes an entry back.
function withdraw(entry) {
  store(entered().filter(e => keyOf(e) !== keyOf(entry)));
  listeners.forEach(hear => hear("withdrawn", entry, null));
}

// mark says of entries that they are "saved" or "sent".
function mark(entries, what) {
  const keys = new Set(entries.map(keyOf));
  store(entered().map(e => keys.has(keyOf(e)) ? { ...e, [what]: true } : e));
}

// whereKept says where an entry is: "sent" home, "saved" as a file or shared,
// "stored" in this browser, or "nowhere" but on this open page.
function whereKept(entry) {
  const now = entered().find(e => keyOf(e) === keyOf(entry));
  if (!now) return isRecorded(entry) ? "sent" : "nowhere";
  return now.sent ? "sent" : now.saved ? "saved" : stores ? "stored" : "nowhere";
}

// keyOf is the same for entries that take each other’s place. A thing ends once.
function keyOf(e) {
  return e.kind + " " + e.id + (e.kind === "gone" ? "" : " " + e.on);
}

// Entries are kept in the browser’s store where it lets a page have one, else in
// memory only. The key names the registry by the identifier that it has, since
// pages of several registries, perhaps of one name, may share a store.
const storeKey = "pipstake entries of " + (season.identity || season.registry);
let memory = [];
let stores = true;
try {
  window.localStorage.setItem(storeKey + ", tried", "1");
  window.localStorage.removeItem(storeKey + ", tried");
} catch {
  stores = false;
}

// Older pages kept counts under the name of the registry’s folder. Those that may
// be this registry’s are taken over, once.
const formerKey = "pipstake counts of " + season.registry;
if (stores) {
  try {
    const former = JSON.parse(window.localStorage.getItem(formerKey) || "[]");
    const asEntry = c => ({ kind: "count", id: c.pot, on: c.on, up: c.up, died: c.died, saved: Boolean(c.saved) });
    const ours = former.filter(c => c && isEntry(asEntry(c)) && byID.has(c.pot));
    if (ours.length > 0) {
      const now = stored(storeKey);
      const keys = new Set(now.map(keyOf));
      store([...now, ...ours.map(asEntry).filter(e => !keys.has(keyOf(e)))]);
      if (stores) window.localStorage.setItem(formerKey, JSON.stringify(former.filter(c => !ours.includes(c))));
    }
  } catch {
    // what stands there is no list of counts
  }
}

// entered gives the entries of this page, those that the registry has by now
// left out.
function entered() {
  return (stores ? stored(storeKey) : memory).filter(e => !isRecorded(e));
}

function stored(key) {
  try {
    const all = JSON.parse(window.localStorage.getItem(key) || "[]");
    return Array.isArray(all) ? all.filter(isEntry) : [];
  } catch {
    return [];
  }
}

function store(entries) {
  entries.sort((a, b) => a.id < b.id ? -1 : a.id > b.id ? 1 : a.on < b.on ? -1 : a.on > b.on ? 1 : a.kind < b.kind ? -1 : 1);
  memory = entries;
  try {
    if (stores) window.localStorage.setItem(storeKey, JSON.stringify(entries));
  } catch {
    stores = false; // it is full
  }
}

function isEntry(e) {
  if (!e || !kinds.includes(e.kind) || !isIdentifier(e.id) || !isDay(e.on)) return false;
  switch (e.kind) {
    case "count": return Number.isInteger(e.up) && e.up >= 0 && Number.isInteger(e.died) && e.died >= 0;
    case "gone": return typeof e.how === "string" && e.how !== "";
  }
  return typeof e.text === "string" && e.text !== "";
}

function isIdentifier(text) {
  return typeof text === "string" && /^[0-9]{4}X[0-9]{3,5}(-[A-Z]{1,2}([0-9]{1,4}(-[A-Z]{1,2})?)?)?$/.test(text);
}

function isDay(text) {
  const day = typeof text === "string" && /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(text) && new Date(text + "T00:00:00Z");
  return Boolean(day) && !isNaN(day) && day.toISOString().slice(0, 10) === text;
}

// isRecorded reports whether the registry knew an entry when the page was made.
function isRecorded(e) {
  const row = byID.get(e.id);
  if (!row) return false;
  switch (e.kind) {
    case "count": return Boolean(row.counts && row.counts.some(c => c.on === e.on && c.up === e.up && c.died === e.died));
    case "gone": return Boolean(row.fate && row.ended);
  }
  return Boolean(row.remarks && row.remarks.some(r => r.on === e.on && r.text === e.text));
}
