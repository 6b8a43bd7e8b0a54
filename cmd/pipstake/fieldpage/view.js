// What is shown of a cross, a seed lot, a pot or a seedling. All text goes into
// text nodes, so nothing in the registry is ever taken for markup.

// node makes an element. Its content is nodes and texts.
function node(tag, properties, ...content) {
  const e = Object.assign(document.createElement(tag), properties);
  e.append(...content.flatMap(c => typeof c === "string" ? pieces(c) : c));
  return e;
}

// pieces keeps dates and identifiers in a text from being broken at their
// hyphens.
function pieces(text) {
  const parts = text.split(/([0-9]{4}-[0-9]{2}-[0-9]{2}|[0-9]{4}X[0-9]{3,5}(?:-[A-Z0-9]+)*)/);
  return parts.map((part, i) => {
    if (i % 2 === 0) return part;
    const whole = document.createElement("span");
    whole.className = "whole";
    whole.textContent = part;
    return whole;
  }).filter(part => part !== "");
}

function link(id, text) {
  return node("a", { href: "#" + id, className: "go" }, ...text);
}

// stake is the head of a sheet about an identifier: a stake with its point to
// the right and the line of the soil.
function stake(row) {
  return node("h1", { className: "stake" }, node("span", { className: "id" }, row.id), node("span", { className: "check" }, "." + withCheck(row.id).slice(-1)));
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

// summary is a row on one line.
function summary(row) {
  const name = node("b", {}, row.id);
  if (row.void) return [name, " void"];
  switch (row.level) {
    case "cross": return [name, " ♀\u00a0" + row.seed + " × ♂\u00a0" + row.pollen];
    case "seed lot": return [name, row.seeds === undefined ? "" : " " + several(row.seeds, "seed")];
    case "pot": return [name, " " + upOf(row)];
  }
  return [name, row.pricked ? " pricked out " + row.pricked : ""];
}

// upOf says how many are up in a pot: "5 of 7 up (71 %)".
function upOf(pot) {
  const last = countsOf(pot.id).at(-1);
  if (!last) return pot.seeds === undefined ? "not counted" : several(pot.seeds, "seed") + ", not counted";
  return countWords(pot, last);
}

function countWords(pot, count) {
  const of = pot.seeds ? " of " + pot.seeds + " up (" + Math.round(100 * count.up / pot.seeds) + " %)" : " up";
  return (count.up === undefined ? "?" : count.up) + of + (count.died ? ", " + count.died + " died" : "");
}

function found(lot) {
  if (lot.seeds === undefined) return "not yet extracted";
  return [lot.fruit === undefined ? "" : lot.fruit + " fruit", several(lot.seeds, "seed"), lot.undeveloped ? lot.undeveloped + " undeveloped" : ""].filter(Boolean).join(", ");
}

// sheet shows all that is known of a row.
function sheet(row) {
  const children = below.get(row.id) || [];
  const parts = [stake(row), row.void ? node("p", { className: "wrong" }, "Void. Take its labels away.") : "", parentsOf(crossOf(row.id))];
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
      parts.push(facts(["pricked out", row.pricked], ["notes", row.notes]), goList("Pot", [parentOf(row.id)].filter(id => byID.has(id))));
  }
  return node("article", {}, ...parts);
}

function potParts(pot, seedlings) {
  const sown = pot.seeds === undefined ? "an unknown number of seeds" : several(pot.seeds, "seed");
  const siblings = (below.get(parentOf(pot.id)) || []).filter(id => id !== pot.id);
  const lot = byID.get(parentOf(pot.id));
  return [
    facts(["sown", sown + (pot.sown ? " on " + pot.sown : ", day not recorded")], ["up", upOf(pot)], ["place", pot.place],
      ["seed lot", lot ? found(lot) : ""], ["into the cold", lot ? lot.chilled : ""], ["notes", pot.notes]),
    pot.void ? "" : countForm(pot),
    countList(pot),
    goList("Siblings", siblings),
    goList("Seedlings", seedlings),
    goList("Seed lot", [parentOf(pot.id)].filter(id => byID.has(id))),
  ];
}

function countList(pot) {
  const counts = countsOf(pot.id);
  if (counts.length === 0) return "";
  return node("div", { className: "list" }, node("h2", {}, "Counts"),
    ...counts.map(c => node("p", { className: c.own ? "own" : "" }, node("b", {}, c.on), " " + countWords(pot, c) + (c.own ? ", entered here" : ""))));
}

// countForm takes a count of a pot.
function countForm(pot) {
  const last = countsOf(pot.id).at(-1) || { up: 0, died: 0 };
  const up = number("up", last.up || 0, pot.seeds);
  const died = number("died", last.died, pot.seeds);
  const on = node("input", { type: "date", id: "on", value: today(), required: true });
  const why = node("p", { className: "wrong", id: "why" });
  why.setAttribute("role", "alert");
  const form = node("form", { className: "count", id: "count", noValidate: true }, node("h2", {}, "Count"),
    stepper("Up so far, in all", up), stepper("Died of these", died),
    node("label", { htmlFor: "on" }, "On"), on,
    why, node("button", { type: "submit" }, "Keep this count"));
  form.addEventListener("submit", event => {
    event.preventDefault();
    const count = { kind: "count", id: pot.id, on: on.value, up: up.valueAsNumber, died: died.value === "" ? 0 : died.valueAsNumber };
    why.textContent = refusal(count);
    if (why.textContent) return;
    record(count);
    show();
    at("why").className = "right";
    at("why").textContent = "Kept: " + countWords(pot, count) + " on " + count.on + ".";
  });
  return form;
}

function number(id, value, most) {
  const input = node("input", { type: "number", id, value, min: 0, step: 1, inputMode: "numeric", required: true });
  if (most !== undefined) input.max = most;
  return input;
}

// stepper puts a number between buttons that a thumb hits.
function stepper(label, input) {
  const step = (sign, by) => {
    const button = node("button", { type: "button", className: "step" }, sign);
    button.setAttribute("aria-label", (by < 0 ? "one less: " : "one more: ") + label);
    button.addEventListener("click", () => {
      const most = input.max === "" ? Infinity : Number(input.max);
      input.value = Math.min(most, Math.max(0, (input.valueAsNumber || 0) + by));
    });
    return button;
  };
  return node("div", { className: "stepper" }, node("label", { htmlFor: input.id }, label), step("−", -1), input, step("+", 1));
}
