// A walk along the pots of a place: one at a time, in their order, with the
// count under the thumb.

const placeless = "without a place";
let steps = null; // the fields of the pot that is walked at

// walkable gives the pots that grow, by place: those of one place in the order of
// their identifiers, the places as people number them.
function walkable() {
  const places = new Map();
  for (const { id } of season.pots) {
    const pot = byID.get(id);
    if (isOver(pot)) continue;
    const place = pot.place || "";
    if (!places.has(place)) places.set(place, new Set());
    places.get(place).add(pot);
  }
  const order = new Intl.Collator("en", { numeric: true, sensitivity: "base" });
  return new Map([...places].sort(([a], [b]) => order.compare(a, b)).map(([place, pots]) => [place, [...pots]]));
}

function countedToday(pot) {
  return countsOf(pot.id).some(c => c.on === today());
}

// startSheet is where a walk starts: the places, and how far each is counted.
function startSheet() {
  const places = [...walkable()];
  const parts = places.map(([place, pots]) => {
    const done = pots.filter(countedToday).length;
    const next = pots.find(p => !countedToday(p)) || pots[0];
    return node("a", { className: "go", href: "#walk/" + next.id }, node("b", {}, place || placeless), " " + done + " of " + pots.length + " counted today");
  });
  return [title("A walk"), node("p", {}, parts.length > 0 ? "Pot by pot, in their order. Where does it begin?" : "No pot grows."), node("div", { className: "list" }, ...parts)];
}

// walkSheet is the walk at a pot.
function walkSheet(pot) {
  const pots = walkable().get(pot.place || "") || [];
  const i = pots.indexOf(pot);
  if (i < 0) return [stake(pot), node("p", {}, "It ended, so no walk passes it."), link(pot.id, summary(pot))];
  const done = pots.filter(countedToday).length;
  steps = { pot, ...countFields(pot) };
  const bar = node("progress", { max: pots.length, value: done });
  bar.setAttribute("aria-label", "pots counted today");
  const form = node("form", { id: "step", noValidate: true }, ...steps.steppers,
    node("div", { className: "onward" }, wayTo("Back", pots[i - 1]), node("button", { type: "submit" }, "Enter, next"), wayTo("Skip", pots[i + 1])));
  form.addEventListener("submit", event => {
    event.preventDefault();
    const count = steps.count(today());
    const why = refusal(count);
    if (why) {
      refuse(why);
      return;
    }
    record(count);
    const next = [...pots.slice(i + 1), ...pots.slice(0, i)].find(p => !countedToday(p));
    steps = null;
    replaceAddress(next ? "walk/" + next.id : "walk");
    tellKept(count, next ? "" : "All " + pots.length + " are counted.");
  });
  at("dock").replaceChildren(form);
  const last = countsOf(pot.id).at(-1);
  return [
    node("p", { className: "progress" }, node("span", {}, (pot.place || placeless) + ": " + done + " of " + pots.length + " counted"), bar),
    stake(pot),
    parentsOf(crossOf(pot.id)),
    node("p", {}, last ? upOf(pot) + " on " + last.on : upOf(pot), " ", node("a", { href: "#" + pot.id }, "All about it")),
    curve(pot),
    otherForms(pot),
  ];
}

// wayTo is a button to another pot of the walk.
function wayTo(text, pot) {
  return button(pot ? text : text === "Back" ? "First" : "Last", { className: "quiet", disabled: !pot }, () => {
    say("");
    replaceAddress("walk/" + pot.id);
  });
}

// takeOnWalk goes to the pot whose code was read, and the camera looks on. It
// does not go back to a pot that is still before the camera, and never leaves a
// count behind that was changed and not entered.
function takeOnWalk(texts) {
  const ids = idsOf(texts).map(id => byID.get(id).level === "seedling" ? parentOf(id) : id).filter(id => byID.has(id) && byID.get(id).level === "pot");
  const now = steps && steps.pot.id;
  const still = ids.includes(scanned.id) && Date.now() - scanned.at < 2000;
  if (still) scanned.at = Date.now();
  if (ids.length === 0 || still || ids.includes(now)) return false;
  const id = ids.find(other => !countedToday(byID.get(other))) || ids[0];
  if (now && steps.touched()) {
    refuse("Enter the count of " + now + " or skip it, then scan " + id + ".");
    return false;
  }
  scanned = { id, at: Date.now() };
  if (navigator.vibrate) navigator.vibrate(60);
  say(isOver(byID.get(id)) ? id + " ended." : "");
  replaceAddress("walk/" + id);
  return false;
}
let scanned = { id: "", at: 0 }; // what was taken last, and when it was last seen
