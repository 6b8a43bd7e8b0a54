// Elements of the page, and what is said at its foot. All text goes into text
// nodes, so nothing in the registry is ever taken for markup.

const at = id => document.getElementById(id);

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

// title is the heading of a view, to which the focus goes.
function title(...text) {
  return node("h1", { className: "title", tabIndex: -1 }, ...text);
}

// button is one that does something when it is tapped.
function button(text, properties, act) {
  const b = node("button", { type: "button", ...properties }, text);
  b.addEventListener("click", act);
  return b;
}

// say tells at the foot what happened, and refuse what cannot be. Both are
// spoken by a screen reader. offers are buttons for what can be done now.
function say(text, ...offers) {
  at("said").replaceChildren(...pieces(text));
  at("wrong").textContent = "";
  at("offers").replaceChildren(...offers);
  bringIntoSight(text);
}

function refuse(text, ...offers) {
  at("said").textContent = "";
  at("wrong").replaceChildren(...pieces(text));
  at("offers").replaceChildren(...offers);
  bringIntoSight(text);
}

function bringIntoSight(text) {
  if (text && !at("foot").classList.contains("stays")) at("saying").scrollIntoView({ block: "nearest" });
}

// several is a number with its noun: "1 match", "2 matches".
function several(n, noun) {
  return n + " " + noun + (n === 1 ? "" : /(ch|sh|s)$/.test(noun) ? "es" : "s");
}

// today is the day by this device’s own clock.
function today() {
  const now = new Date();
  const two = n => String(n).padStart(2, "0");
  return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
}
