// The season as it stands in the page, and the counts that are entered here and
// not brought home yet.

const season = JSON.parse(document.getElementById("season").textContent);
const byID = new Map();
const below = new Map(); // identifiers one level down, in their order
for (const [level, rows] of [["cross", season.crosses], ["seed lot", season.lots], ["pot", season.pots], ["seedling", season.seedlings]]) {
  for (const row of rows) {
    if (byID.has(row.id)) continue; // a row that stands there twice counts once
    byID.set(row.id, { level, ...row });
    const above = parentOf(row.id);
    if (!below.has(above)) below.set(above, []);
    below.get(above).push(row.id);
  }
}

// parentOf gives the identifier one level up, "" for a cross.
function parentOf(id) {
  const [, cross, lot, pot, seedling] = /^([0-9]+X[0-9]+)(?:-([A-Z]+)([0-9]+)?(?:-([A-Z]+))?)?$/.exec(id);
  if (seedling) return cross + "-" + lot + pot;
  if (pot) return cross + "-" + lot;
  return lot ? cross : "";
}

function crossOf(id) {
  return byID.get(id.split("-")[0]);
}

// Counts are kept in the browser’s store where it lets a page have one, else in
// memory only. The key names the registry, since pages of several may share it.
const storeKey = "pipstake counts of " + season.registry;
let memory = [];
let kept = true;
try {
  window.localStorage.setItem(storeKey + ", tried", "1");
  window.localStorage.removeItem(storeKey + ", tried");
} catch {
  kept = false;
}

function isCount(c) {
  return c && typeof c.pot === "string" && /^[0-9]{4}X[0-9]{3,5}-[A-Z]{1,2}[0-9]{1,4}$/.test(c.pot) && isDay(c.on) &&
    Number.isInteger(c.up) && c.up >= 0 && Number.isInteger(c.died) && c.died >= 0;
}

function isDay(text) {
  const day = typeof text === "string" && /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(text) && new Date(text + "T00:00:00Z");
  return Boolean(day) && !isNaN(day) && day.toISOString().slice(0, 10) === text;
}

// entered gives the counts entered here, those that the registry has by now
// left out.
function entered() {
  if (!kept) return memory;
  try {
    const all = JSON.parse(window.localStorage.getItem(storeKey) || "[]");
    return Array.isArray(all) ? all.filter(c => isCount(c) && !isRecorded(c)) : [];
  } catch {
    return [];
  }
}

function keep(counts) {
  counts.sort((a, b) => a.pot < b.pot ? -1 : a.pot > b.pot ? 1 : a.on < b.on ? -1 : 1);
  memory = counts;
  try {
    if (kept) window.localStorage.setItem(storeKey, JSON.stringify(counts));
  } catch {
    kept = false; // it is full
  }
}

function isRecorded(c) {
  const pot = byID.get(c.pot);
  return Boolean(pot && pot.counts && pot.counts.some(r => r.on === c.on && r.up === c.up && r.died === c.died));
}

// countsOf gives all counts of a pot by their dates; own says that one was
// entered here.
function countsOf(id) {
  const pot = byID.get(id);
  const all = (pot && pot.counts || []).map(c => ({ own: false, ...c }));
  for (const c of entered()) {
    if (c.pot === id) all.push({ own: true, on: c.on, up: c.up, died: c.died });
  }
  return all.sort((a, b) => a.on < b.on ? -1 : a.on > b.on ? 1 : 0);
}

// refusal says why a count cannot be right, "" where it can. The rules are
// those by which the program takes it in.
function refusal(count) {
  const pot = byID.get(count.pot);
  if (!Number.isInteger(count.up) || count.up < 0) return "Give the number that was counted.";
  if (!Number.isInteger(count.died) || count.died < 0) return "Give the number that died, or 0.";
  if (!isDay(count.on)) return "Give the day of the count.";
  if (pot.seeds !== undefined && count.up > pot.seeds) return count.up + " are more than the " + several(pot.seeds, "seed") + " sown. Count again.";
  if (count.died > count.up) return count.died + " died of " + count.up + " that came up. Give all that have come up, those that died since among them.";
  if (pot.sown && count.on < pot.sown) return "The pot was sown on " + pot.sown + ". Look at the day.";
  for (const c of countsOf(count.pot)) {
    if (c.on === count.on) {
      if (c.own) continue; // it takes that one’s place
      return "Counted on " + c.on + " already: " + c.up + " up. Correct that at home.";
    }
    const [first, second] = c.on < count.on ? [c, count] : [count, c];
    if (first.up !== undefined && second.up !== undefined && first.up > second.up || first.died > second.died) {
      return "On " + c.on + " it was " + c.up + " up, " + c.died + " died. Neither ever falls: give all so far, those that died among them.";
    }
  }
  return "";
}

function several(n, noun) {
  return n + " " + noun + (n === 1 ? "" : "s");
}

// today is the day by this device’s own clock.
function today() {
  const now = new Date();
  const two = n => String(n).padStart(2, "0");
  return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
}

// countsFile is the CSV file that pipstake emerged --from takes in.
function countsFile() {
  const lines = entered().map(c => [withCheck(c.pot), c.on, c.up, c.died || ""].join(","));
  return ["pot,on,up,died", ...lines].join("\r\n") + "\r\n";
}
