// The season as it stands in the page: the registry's rows on the day when it
// was made.

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
