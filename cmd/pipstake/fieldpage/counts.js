// Counts: those of a pot, what no count can be, and the file that brings them home.

// countsOf gives all counts of a pot by their dates; own says that one was
// entered here.
function countsOf(id) {
  const pot = byID.get(id);
  const all = (pot && pot.counts || []).map(c => ({ own: false, ...c }));
  for (const c of entriesOf(id)) {
    if (c.kind === "count") all.push({ own: true, on: c.on, up: c.up, died: c.died });
  }
  return all.sort((a, b) => a.on < b.on ? -1 : a.on > b.on ? 1 : 0);
}

// refusal says why a count cannot be right, "" where it can. The rules are
// those by which the program takes it in.
function refusal(count) {
  const pot = byID.get(count.id);
  if (!Number.isInteger(count.up) || count.up < 0) return "Give the number that was counted.";
  if (!Number.isInteger(count.died) || count.died < 0) return "Give the number that died, or 0.";
  if (!isDay(count.on)) return "Give the day of the count.";
  if (pot.seeds !== undefined && count.up > pot.seeds) return count.up + " are more than the " + several(pot.seeds, "seed") + " sown. Count again.";
  if (count.died > count.up) return count.died + " died of " + count.up + " that came up. Give all that have come up, those that died since among them.";
  if (pot.sown && count.on < pot.sown) return "The pot was sown on " + pot.sown + ". Look at the day.";
  for (const c of countsOf(count.id)) {
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
