// What is shown of a cross, a seed lot, a pot or a seedling.

// stake is the head of a sheet about an identifier: a stake with its point to
// the right and the line of the soil.
function stake(row) {
  return node("h1", { className: "stake", tabIndex: -1 }, node("span", { className: "id" }, row.id), node("span", { className: "check" }, "." + withCheck(row.id).slice(-1)));
}

function parentsOf(cross) {
  if (!cross) return node("p", { className: "parents" }, "parents not known");
  return node("p", { className: "parents" }, "♀\u00a0", parentName(cross.seed), " × ♂\u00a0", parentName(cross.pollen));
}

// parentName leads on to a seedling of one’s own.
function parentName(name) {
  return byID.has(name) ? node("a", { href: "#" + name }, name) : name;
}

// facts is a list of what is known; those without a value are left out.
function facts(...rows) {
  const list = node("dl", {});
  for (const [what, value] of rows) {
    if (value) list.append(node("div", {}, node("dt", {}, what), node("dd", {}, value)));
  }
  return list;
}

function goList(title, ids) {
  if (ids.length === 0) return "";
  return node("div", { className: "list" }, node("h2", {}, title), ...ids.map(id => link(id, summary(byID.get(id)))));
}

// endOf says how and when something ended, by the registry or by what was
// entered here; null where it has not.
function endOf(row) {
  if (row.fate) return { how: row.fate, on: row.ended || "", own: false };
  const entry = entriesOf(row.id).find(e => e.kind === "gone");
  return entry ? { how: entry.how, on: entry.on, own: true } : null;
}

// isOver reports whether something asks for nothing more: void, or ended.
function isOver(row) {
  return Boolean(row.void) || endOf(row) !== null;
}

// summary is a row on one line.
function summary(row) {
  const name = node("b", {}, row.id);
  if (row.void) return [name, " void"];
  const end = endOf(row);
  const after = end ? ", " + end.how : "";
  switch (row.level) {
    case "cross": return [name, " ♀\u00a0" + row.seed + " × ♂\u00a0" + row.pollen + after];
    case "seed lot": return [name, (row.seeds === undefined ? "" : " " + several(row.seeds, "seed")) + after];
    case "pot": return [name, " " + upOf(row) + after];
  }
  return [name, (row.name ? " " + row.name : row.pricked ? " pricked out " + row.pricked : "") + after];
}

// upOf says how many are up in a pot: "5 of 7 up (71 %)".
function upOf(pot) {
  const last = countsOf(pot.id).at(-1);
  if (!last) return pot.seeds === undefined ? "not counted" : several(pot.seeds, "seed") + ", not counted";
  return countWords(pot, last);
}

function countWords(pot, count) {
  const of = pot.seeds ? " of " + pot.seeds + " up (" + Math.round(100 * count.up / pot.seeds) + "\u00a0%)" : " up";
  return (count.up === undefined ? "?" : count.up) + of + (count.died ? ", " + count.died + " died" : "");
}

function found(lot) {
  if (lot.seeds === undefined) return "not yet extracted";
  return [lot.fruit === undefined ? "" : lot.fruit + " fruit", several(lot.seeds, "seed"), lot.undeveloped ? lot.undeveloped + " undeveloped" : ""].filter(Boolean).join(", ");
}

// sheet shows all that is known of a row.
function sheet(row) {
  const children = below.get(row.id) || [];
  const end = endOf(row);
  const parts = [stake(row), row.void ? node("p", { className: "wrong" }, "Void. Take its labels away.") : "",
    end ? node("p", { className: "ended" }, "Ended: " + end.how + (end.on ? " on " + end.on : "") + (end.own ? ", entered here" : "") + ".") : "", parentsOf(crossOf(row.id))];
  switch (row.level) {
    case "cross":
      parts.push(facts(["pollinated", row.pollinated], ["flowers", row.flowers === undefined ? "" : String(row.flowers)], ["notes", row.notes]), goList("Seed lots", children));
      break;
    case "seed lot":
      parts.push(facts(["found", found(row)], ["extracted", row.extracted], ["into the cold", row.chilled], ["notes", row.notes]),
        goList("Pots", children), goList("Cross", [parentOf(row.id)].filter(id => byID.has(id))));
      break;
    case "pot":
      parts.push(...potParts(row, children));
      break;
    default:
      parts.push(facts(["name", row.name], ["pricked out", row.pricked], ["place", row.place], ["notes", row.notes]), goList("Pot", [parentOf(row.id)].filter(id => byID.has(id))));
  }
  return node("article", {}, ...parts, remarksOf(row), row.void ? "" : otherForms(row));
}

function potParts(pot, seedlings) {
  const sown = pot.seeds === undefined ? "an unknown number of seeds" : several(pot.seeds, "seed");
  const siblings = (below.get(parentOf(pot.id)) || []).filter(id => id !== pot.id);
  const lot = byID.get(parentOf(pot.id));
  return [
    facts(["sown", sown + (pot.sown ? " on " + pot.sown : ", day not recorded")], ["up", upOf(pot)], ["place", pot.place],
      ["seed lot", lot ? found(lot) : ""], ["into the cold", lot ? lot.chilled : ""], ["notes", pot.notes]),
    ...isOver(pot) ? [] : [countForm(pot), node("a", { className: "go", href: "#walk/" + pot.id }, "Walk on from here")],
    curve(pot),
    countList(pot),
    goList("Siblings", siblings),
    goList("Seedlings", seedlings),
    goList("Seed lot", [parentOf(pot.id)].filter(id => byID.has(id))),
  ];
}

// remarksOf lists the dated notes, those entered here among them.
function remarksOf(row) {
  const own = entriesOf(row.id).filter(e => e.kind === "note").map(e => ({ own: true, ...e }));
  const all = [...row.remarks || [], ...own].sort((a, b) => a.on < b.on ? -1 : a.on > b.on ? 1 : 0);
  if (all.length === 0) return "";
  return node("div", { className: "list" }, node("h2", {}, "Notes"),
    ...all.map(r => node("p", { className: r.own ? "own" : "", ...r.own ? { id: "note-" + r.on } : {}, tabIndex: -1 }, node("b", {}, r.on), " " + r.text + (r.own ? ", entered here" : ""))));
}

function countList(pot) {
  const counts = countsOf(pot.id);
  if (counts.length === 0) return "";
  return node("div", { className: "list" }, node("h2", {}, "Counts"),
    ...counts.map(c => node("p", { className: c.own ? "own" : "", id: "count-" + c.on, tabIndex: -1 }, node("b", {}, c.on), " " + countWords(pot, c) + (c.own ? ", entered here" : ""))));
}
