// Everything that is recorded on this page goes through here, and here is said
// where it is kept.
//
// An entry is what was recorded of one thing on one day:
//
//	{ kind: "count", id, on, up, died }   all that are up, and died of these
//	{ kind: "gone", id, on, how, text }   how it ended, and why; "" where not known
//	{ kind: "note", id, on, text }
//
// with saved: true once it is in a file or was shared, and sent: true once it
// is in the registry at home.

const kinds = ["count", "gone", "note"];

// listeners are told of every entry at once: listener(what, entry, before).
// what is "recorded", where before is the entry whose place it took, or null,
// "withdrawn", or "forgotten" here and not where it was sent. The page that is
// served sends entries home from here, and marks them when they arrived:
// mark([entry], "sent").
const listeners = [];

// record keeps an entry, in the place of one of the same kind, thing and day.
function record(entry) {
  const before = put({ ...entry, saved: false, sent: false });
  undoable = [{ what: "recorded", entry, before }];
}

// withdraw takes entries back.
function withdraw(...entries) {
  entries.forEach(entry => drop(entry));
  undoable = entries.map(entry => ({ what: "withdrawn", entry, before: null }));
}

// forget drops entries here, and leaves those alone that are home.
function forget(...entries) {
  entries.forEach(entry => drop(entry, "forgotten"));
  undoable = entries.map(entry => ({ what: "forgotten", entry, before: null }));
}

// takeBack undoes the last of these, and tells how many entries it put right.
function takeBack() {
  const changes = undoable;
  undoable = [];
  for (const { what, entry, before } of changes) {
    if (what !== "recorded") put({ ...entry, sent: false });
    else if (before) put({ ...before, sent: false });
    else drop(entry);
  }
  return changes.length;
}
let undoable = []; // the last changes, as listeners heard of them

function put(entry) {
  readAnew();
  const same = other => keyOf(other) === keyOf(entry);
  const all = entered();
  const before = all.find(same) || null;
  store([...all.filter(e => !same(e)), ...isRecorded(entry) ? [] : [entry]]);
  listeners.forEach(hear => hear("recorded", entry, before));
  return before;
}

function drop(entry, what = "withdrawn") {
  readAnew();
  store(entered().filter(e => keyOf(e) !== keyOf(entry)));
  listeners.forEach(hear => hear(what, entry, null));
}

// mark says of entries that they are "saved" or "sent".
function mark(entries, what) {
  readAnew();
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
let read = false; // memory has what the store has
let stores = true;
try {
  window.localStorage.setItem(storeKey + ", tried", "1");
  window.localStorage.removeItem(storeKey + ", tried");
} catch {
  stores = false;
}

// adopt takes over, once, what older pages kept under the name of the registry’s
// folder: the counts that may be this registry’s.
function adopt() {
  const formerKey = "pipstake counts of " + season.registry;
  const asEntry = c => ({ kind: "count", id: c.pot, on: c.on, up: c.up, died: c.died, saved: Boolean(c.saved), sent: false });
  try {
    const former = JSON.parse(window.localStorage.getItem(formerKey) || "[]");
    const ours = former.filter(c => c && isEntry(asEntry(c)) && byID.has(c.pot));
    if (ours.length === 0) return;
    const keys = new Set(entered().map(keyOf));
    store([...entered(), ...ours.map(asEntry).filter(e => !keys.has(keyOf(e)))]);
    if (stores) window.localStorage.setItem(formerKey, JSON.stringify(former.filter(c => !ours.includes(c))));
  } catch {
    // what stands there is no list of counts
  }
}

// entered gives the entries of this page, those that the registry has by now
// left out. What it gives is not to be changed.
function entered() {
  if (stores && !read) {
    memory = stored(storeKey).filter(e => !isRecorded(e));
    read = true;
  }
  return memory;
}

// Another page of the registry may write as well: before this one does, and when
// the browser tells of it, the store is read anew.
function readAnew() {
  read = false;
}
window.addEventListener("storage", readAnew);
window.addEventListener("pageshow", readAnew);

// entriesOf gives the entries of one thing.
function entriesOf(id) {
  const all = entered();
  if (all !== grouped.all) {
    grouped = { all, by: new Map() };
    for (const e of all) grouped.by.set(e.id, [...grouped.by.get(e.id) || [], e]);
  }
  return grouped.by.get(id) || [];
}
let grouped = { all: null, by: new Map() };

function stored(key) {
  try {
    const all = JSON.parse(window.localStorage.getItem(key) || "[]");
    return Array.isArray(all) ? all.filter(isEntry) : [];
  } catch {
    return [];
  }
}

function store(entries) {
  entries = entries.filter(e => !isRecorded(e)).sort((a, b) => a.id < b.id ? -1 : a.id > b.id ? 1 : a.on < b.on ? -1 : a.on > b.on ? 1 : a.kind < b.kind ? -1 : 1);
  memory = entries;
  try {
    if (!stores) return;
    window.localStorage.setItem(storeKey, JSON.stringify(entries));
  } catch {
    stores = false; // it is full
  }
}

function isEntry(e) {
  if (!e || !kinds.includes(e.kind) || !isIdentifier(e.id) || !isDay(e.on)) return false;
  switch (e.kind) {
    case "count": return Number.isInteger(e.up) && e.up >= 0 && Number.isInteger(e.died) && e.died >= 0;
    case "gone": return Object.values(season.fates).flat().includes(e.how) && isText(e.text);
  }
  return isText(e.text) && e.text !== "";
}

// isText reports whether a text can stand between quotation marks on a command
// line of any kind of computer as it is.
function isText(text) {
  return typeof text === "string" && text.length <= 500 && !/["“”„`$\\!\p{Cc}]|%.*%/u.test(text);
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

if (stores) adopt();
